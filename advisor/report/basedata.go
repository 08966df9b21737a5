package report

import (
	"relath/kb"
	"relath/kb/quantity"
)

// ValueData is one value of the base.
type ValueData struct {
	Property string      `json:"property"`
	Printed  string      `json:"printed"` // as the source prints it
	Number   *NumberData `json:"number,omitempty"`
	Humidity []float64   `json:"humidity,omitempty"` // of a curve, 0 to 1
	Curve    []float64   `json:"curve,omitempty"`    // in the unit of number
	Method   string      `json:"method,omitempty"`
	At       string      `json:"at,omitempty"` // conditions in words
	Source   string      `json:"source"`
	Locator  string      `json:"locator,omitempty"`
	Evidence kb.Evidence `json:"evidence"`
	Doubt    string      `json:"doubt,omitempty"`
	Used     bool        `json:"used"` // for the plain question, without a method
}

// MaterialCard is a material in SI.
type MaterialCard struct {
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	Family   string      `json:"family"`
	Form     string      `json:"form"`
	Summary  string      `json:"summary"`
	Terms    []string    `json:"terms"`
	Duties   []string    `json:"duties"`
	Adhesive string      `json:"adhesive,omitempty"`
	Food     []string    `json:"food,omitempty"`
	MoldFace string      `json:"mold-face,omitempty"`
	MoldBack string      `json:"mold-back,omitempty"`
	Drying   string      `json:"drying,omitempty"`
	Cautions []string    `json:"cautions,omitempty"`
	Values   []ValueData `json:"values"`
}

// MaterialData gives a material with all its values.
func (m Maker) MaterialData(mat *kb.Material) MaterialCard {
	d := MaterialCard{
		ID: mat.ID, Name: mat.Name, Family: mat.Family, Form: string(mat.Form), Summary: mat.Summary, Terms: mat.Terms,
		Adhesive: mat.Composition.Adhesive, Food: mat.Composition.Food, MoldFace: string(mat.Mold.Face), MoldBack: string(mat.Mold.Back),
		Drying: mat.Drying, Cautions: mat.Cautions,
	}
	for _, o := range mat.Duties {
		d.Duties = append(d.Duties, o.Duty)
	}
	for i := range mat.Values {
		v := &mat.Values[i]
		w, ok := mat.Working(v.Property, kb.AnyMethod, 0)
		x := ValueData{
			Property: v.Property, Printed: printed(v.Value.Value, v.Range.Value), Method: v.At.Method, At: conditionWords(v),
			Source: v.Source, Locator: v.Locator, Evidence: v.Evidence, Doubt: v.Doubt, Used: ok && w.Value == v,
		}
		var dim quantity.Dimension
		if prop := m.Base.Property(v.Property); prop != nil {
			dim = prop.Dimension
		}
		n := number3(v.SI, dim)
		x.Number = &n
		if v.Curve != nil {
			x.Printed, x.Humidity, x.Curve = v.Curve.Values.Value, v.Curve.RH, v.Curve.SI
		}
		d.Values = append(d.Values, x)
	}
	return d
}

// PlaceData is a place with its months in SI.
type PlaceData struct {
	ID        string       `json:"id"`
	Name      string       `json:"name"`
	Region    string       `json:"region"`
	Country   string       `json:"country"`
	Latitude  float64      `json:"latitude"`
	Longitude float64      `json:"longitude"`
	Zone      string       `json:"zone,omitempty"`
	Months    []SeriesData `json:"months"`
}

// SeriesData is one monthly quantity, January to December.
type SeriesData struct {
	Quantity string      `json:"quantity"`
	Unit     string      `json:"unit"`
	Values   []float64   `json:"values"`
	Source   string      `json:"source"`
	Evidence kb.Evidence `json:"evidence"`
}

// PlacesData lists places.
func PlacesData(list []*kb.Place) []PlaceData {
	out := make([]PlaceData, len(list))
	for i, p := range list {
		d := PlaceData{ID: p.ID, Name: p.Name, Region: p.Region, Country: p.Country, Latitude: p.Latitude, Longitude: p.Longitude, Zone: p.Zone}
		for _, s := range p.Months {
			d.Months = append(d.Months, SeriesData{Quantity: s.Quantity, Unit: dimensionOf(s.Quantity).Unit(), Values: s.SI, Source: s.Source, Evidence: s.Evidence})
		}
		out[i] = d
	}
	return out
}
