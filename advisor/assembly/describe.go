package assembly

import (
	"slices"

	"relath/kb/strict"
)

// House is a description file as written. Every text keeps its position, so
// that a problem found later can still point at its line.
type House struct {
	Pos          strict.Pos    `yaml:",pos"`
	Format       int           `yaml:"format,required"` // 1
	House        string        `yaml:"house,required"`
	Place        strict.Text   `yaml:"place,required"`
	Built        int           `yaml:"built"`
	Code         Code          `yaml:"code"`
	Air          Air           `yaml:"air"`
	Indoor       Indoor        `yaml:"indoor"`
	Assemblies   []Described   `yaml:"assemblies"`
	Finishes     []Finish      `yaml:"finishes"`
	Rooms        []Room        `yaml:"rooms"`
	ColdSurfaces []ColdSurface `yaml:"cold-surfaces"`
	Prices       strict.Text   `yaml:"prices"` // price book, relative to this file
	Note         string        `yaml:"note"`
}

// Code is the adopted code as the user knows it.
type Code struct {
	Edition   Edition     `yaml:"edition"`
	State     strict.Text `yaml:"state"` // two letters
	Zone      strict.Text `yaml:"zone"`  // 5A, 4C, 7
	Confirmed Answer      `yaml:"confirmed"`
}

// Edition names an edition of the model residential code.
type Edition string

// Allowed lists the editions the base has tables for.
func (Edition) Allowed() []string {
	return []string{"IRC-2009", "IRC-2012", "IRC-2015", "IRC-2018", "IRC-2021", "IRC-2024"}
}

// Air says how tight the house is.
type Air struct {
	Tightness strict.Text `yaml:"tightness"` // leaky, typical, tight, or a test result such as 7 ACH50
}

// Indoor gives the room air of the heating and the cooling season.
type Indoor struct {
	Heating  *RoomAir     `yaml:"heating"`
	Cooling  *RoomAir     `yaml:"cooling"` // absent when there is no cooling
	Readings []AirReading `yaml:"readings"`
}

// RoomAir is temperature and humidity of the rooms in one season.
type RoomAir struct {
	Pos         strict.Pos  `yaml:",pos"`
	Temperature strict.Text `yaml:"temperature"`
	Humidity    strict.Text `yaml:"humidity"`
	SupplyAir   strict.Text `yaml:"supply-air"`
}

// Described is one assembly as written, layers from the first of Between to
// the second.
type Described struct {
	Pos        strict.Pos    `yaml:",pos"`
	Name       strict.Text   `yaml:"name,required"`
	Kind       Kind          `yaml:"kind,required"`
	Between    []Side        `yaml:"between,required"`
	Faces      Faces         `yaml:"faces"`
	Slope      strict.Text   `yaml:"slope"`
	Area       strict.Text   `yaml:"area"`
	Openings   strict.Text   `yaml:"openings"`
	BelowGrade strict.Text   `yaml:"below-grade"`   // of a basement wall; of a slab that is a basement floor
	Footing    Answer        `yaml:"footing-break"` // whether a capillary break lies on the footing of a basement wall
	Edge       *Edge         `yaml:"edge"`          // insulation at the edge of a slab
	Space      *Space        `yaml:"space"`         // attic, crawl space or rafter gap on the first side
	Rain       Rain          `yaml:"rain"`
	State      State         `yaml:"state"`
	Needs      []strict.Text `yaml:"needs"`
	Layers     []Layer       `yaml:"layers,required"`
	Readings   []Reading     `yaml:"readings"`
	Note       string        `yaml:"note"`
}

// Clone gives a copy that shares nothing.
func (d *Described) Clone() Described {
	c := *d
	c.Between, c.Needs = slices.Clone(d.Between), slices.Clone(d.Needs)
	c.Layers, c.Readings = slices.Clone(d.Layers), slices.Clone(d.Readings)
	for i := range c.Layers {
		c.Layers[i].own()
	}
	return c
}

// own copies what a copy of a layer still shares.
func (l *Layer) own() {
	l.Material.OneOf, l.Performs, l.Fill = slices.Clone(l.Material.OneOf), slices.Clone(l.Performs), slices.Clone(l.Fill)
	for i := range l.Fill {
		l.Fill[i].Material.OneOf = slices.Clone(l.Fill[i].Material.OneOf)
	}
	if l.Framing != nil {
		framing := *l.Framing
		l.Framing = &framing
	}
	if l.Coats == nil {
		return
	}
	coats := *l.Coats
	coats.In, coats.Out = slices.Clone(coats.In), slices.Clone(coats.Out)
	for _, runs := range [][]CoatRun{coats.In, coats.Out} {
		for i := range runs {
			runs[i].Coating.OneOf = slices.Clone(runs[i].Coating.OneOf)
		}
	}
	l.Coats = &coats
}

// Kind is the kind of an assembly.
type Kind string

// Allowed lists the kinds.
func (Kind) Allowed() []string {
	return []string{"wall", "roof", "attic-floor", "ceiling", "floor", "slab", "basement-wall", "partition"}
}

// Side is what lies on one side of an assembly.
type Side string

// Allowed lists the sides.
func (Side) Allowed() []string {
	return []string{"outdoors", "ground", "crawl", "attic", "garage", "room", "wet-room"}
}

// Faces is the compass direction a wall or roof looks to.
type Faces string

// Allowed lists the directions.
func (Faces) Allowed() []string {
	return []string{"north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"}
}

// Rain is the exposure to driven rain.
type Rain string

// Allowed lists the exposures.
func (Rain) Allowed() []string { return []string{"sheltered", "normal", "severe"} }

// State says whether something stands or is proposed.
type State string

// Allowed lists the states.
func (State) Allowed() []string { return []string{"existing", "proposed"} }

// AirSpace says how a gap exchanges air with the weather.
type AirSpace string

// Allowed lists the kinds of gaps.
func (AirSpace) Allowed() []string { return []string{"closed", "drained", "vented", "ventilated"} }

// Layer is one layer as written: a material, a cavity, or framing with fill.
type Layer struct {
	Pos       strict.Pos    `yaml:",pos"`
	Name      strict.Text   `yaml:"name,required"`
	Material  Choice        `yaml:"material"`
	Thickness strict.Text   `yaml:"thickness"`
	Cavity    strict.Text   `yaml:"cavity"` // thickness of an air space
	Air       AirSpace      `yaml:"air"`    // of the cavity
	Framing   *Framing      `yaml:"framing"`
	Fill      []Fill        `yaml:"fill"`
	Color     Color         `yaml:"color"`
	Performs  []strict.Text `yaml:"performs"` // duties
	Sealed    Answer        `yaml:"sealed"`
	State     State         `yaml:"state"`
	Coats     *Coats        `yaml:"coats"`
	Note      string        `yaml:"note"`
}

// Edge is the insulation at the edge of a slab on grade.
type Edge struct {
	Pos        strict.Pos  `yaml:",pos"`
	Insulation strict.Text `yaml:"insulation,required"` // R-10, or none
	Depth      strict.Text `yaml:"depth"`               // from the top of the slab down, under it, or both together
}

// Space is what is known of the attic, of the crawl space, or of the gap between
// the rafters of a vented roof.
type Space struct {
	Pos    strict.Pos  `yaml:",pos"`
	Vents  strict.Text `yaml:"vents"`  // net free area of its openings, or none
	High   strict.Text `yaml:"high"`   // share of them that lies high
	Ground Ground      `yaml:"ground"` // of a crawl space
	Air    SpaceAir    `yaml:"air"`    // of a crawl space without vents
}

// Ground says what lies on the ground of a crawl space.
type Ground string

// Allowed lists what may lie there: a sheet that is laid loose, or one that is
// lapped, sealed and turned up at the walls.
func (Ground) Allowed() []string { return []string{"bare", "laid", "sealed"} }

// SpaceAir says what keeps the air of a crawl space without vents dry.
type SpaceAir string

// Allowed lists the ways.
func (SpaceAir) Allowed() []string { return []string{"still", "exhaust", "supply", "dehumidifier"} }

// Color is how much sun an outer face takes up.
type Color string

// Allowed lists the colors.
func (Color) Allowed() []string { return []string{"light", "medium", "dark"} }

// Framing is the wood of a framed layer.
type Framing struct {
	Pos      strict.Pos  `yaml:",pos"`
	Material strict.Text `yaml:"material,required"`
	Size     strict.Text `yaml:"size"`  // nominal, such as 2x6
	Depth    strict.Text `yaml:"depth"` // actual, instead of a nominal size
	Spacing  strict.Text `yaml:"spacing"`
	Fraction strict.Text `yaml:"fraction"`
}

// Fill is one material between the framing, from the first side inward.
type Fill struct {
	Pos       strict.Pos  `yaml:",pos"`
	Material  Choice      `yaml:"material,required"`
	Thickness strict.Text `yaml:"thickness"`
}

// Coats are the coats on the two faces of a layer: out looks to the first side
// of the assembly, in to the second. Each list runs from the layer outward.
type Coats struct {
	Pos strict.Pos `yaml:",pos"`
	In  []CoatRun  `yaml:"in"`
	Out []CoatRun  `yaml:"out"`
}

// CoatRun is one coating and how many coats of it.
type CoatRun struct {
	Pos     strict.Pos  `yaml:",pos"`
	Coating Choice      `yaml:"coating,required"`
	Count   strict.Text `yaml:"count"` // 2, or a doubt such as 3-5
}

// Finish is one line of the finish schedule.
type Finish struct {
	Pos      strict.Pos  `yaml:",pos"`
	Room     strict.Text `yaml:"room,required"`
	Part     strict.Text `yaml:"part,required"` // baseboard, casing, door, cabinet, floor, ...
	Material Choice      `yaml:"material,required"`
	Length   strict.Text `yaml:"length"`
	Area     strict.Text `yaml:"area"`
	Count    int         `yaml:"count"`
	Size     strict.Text `yaml:"size"`
	Cut      Cut         `yaml:"cut"` // of solid wood
	State    State       `yaml:"state"`
	Coats    []CoatRun   `yaml:"coats"`
}

// Cut says how boards were sawn, which decides how much they move.
type Cut string

// Allowed lists the cuts.
func (Cut) Allowed() []string { return []string{"flat", "quarter"} }

// Room is a room of the house. Finishes name it.
type Room struct {
	Pos      strict.Pos  `yaml:",pos"`
	Name     strict.Text `yaml:"name,required"`
	Use      Use         `yaml:"use,required"`
	Area     strict.Text `yaml:"area,required"` // of the floor
	Height   strict.Text `yaml:"height"`
	Moisture strict.Text `yaml:"moisture"` // water given off in a day, instead of what the use suggests
}

// Use is what a room is for.
type Use string

// Allowed lists the uses.
func (Use) Allowed() []string {
	return []string{"bedroom", "living", "kitchen", "bath", "laundry", "basement", "hall"}
}

// ColdSurface is a duct, pipe or other surface that can fall below a dew point.
type ColdSurface struct {
	Pos        strict.Pos  `yaml:",pos"`
	Name       strict.Text `yaml:"name,required"`
	Kind       ColdKind    `yaml:"kind,required"`
	Air        strict.Text `yaml:"air"` // temperature of the air or water inside
	Around     Side        `yaml:"around,required"`
	Insulation strict.Text `yaml:"insulation"`
	Diameter   strict.Text `yaml:"diameter"`
}

// ColdKind is the kind of a cold surface.
type ColdKind string

// Allowed lists the kinds.
func (ColdKind) Allowed() []string { return []string{"duct", "pipe", "boot", "slab-edge", "tank"} }

// Answer is yes or no; empty when not given.
type Answer string

// Allowed lists the answers.
func (Answer) Allowed() []string { return []string{"yes", "no"} }

// Reading is one thing found on site about a layer: what it is, how many coats
// lie on a face of it, or how damp its wood is.
type Reading struct {
	Pos          strict.Pos  `yaml:",pos"`
	Layer        strict.Text `yaml:"layer,required"`
	Face         Face        `yaml:"face"` // of the coats, where both faces have some
	Is           strict.Text `yaml:"is"`   // id of the material or of the fill, or none
	Coats        strict.Text `yaml:"coats"`
	Coating      strict.Text `yaml:"coating"`
	WoodMoisture strict.Text `yaml:"wood-moisture"`
	Date         strict.Text `yaml:"date,required"` // 2026-01-14
	Note         string      `yaml:"note"`
}

// Face is a face of a layer: out looks to the first side of the assembly.
type Face string

// Allowed lists the faces.
func (Face) Allowed() []string { return []string{"in", "out"} }

// AirReading is the air of the rooms as read on site.
type AirReading struct {
	Pos         strict.Pos  `yaml:",pos"`
	Humidity    strict.Text `yaml:"humidity,required"`
	Temperature strict.Text `yaml:"temperature"`
	Date        strict.Text `yaml:"date,required"` // 2026-01-14, or 2026-01 for the mean of a month
	Room        strict.Text `yaml:"room"`
	Note        string      `yaml:"note"`
}
