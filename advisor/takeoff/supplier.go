package takeoff

import "relath/kb"

// The kinds of suppliers.
const (
	lumberYard       = "lumber yard"
	roofingSupplier  = "roofing supplier"
	insulationSeller = "insulation supplier"
	buildingSupply   = "building supply"
	masonryYard      = "masonry and lime supplier"
	floorSupplier    = "flooring supplier"
	millwork         = "millwork shop"
	paintSupplier    = "paint supplier"
	hardware         = "hardware store"
	demolition       = "demolition and hauling"
)

// supplierOf gives the kind of supplier that sells a material, by its family.
func supplierOf(m *kb.Material) string {
	switch m.Family {
	case "framing", "panel-sheathing", "fiber-sheathing", "subfloors", "wood-boards", "wood-panels", "cladding":
		return lumberYard
	case "roofing":
		return roofingSupplier
	case "insulation", "foam":
		return insulationSeller
	case "plaster", "masonry", "concrete", "earth-and-straw":
		return masonryYard
	case "flooring", "underlays":
		return floorSupplier
	case "trim", "doors", "cabinets":
		return millwork
	case "coatings":
		return paintSupplier
	}
	return buildingSupply
}
