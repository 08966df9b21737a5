// Package assembly reads the description of a house and resolves it against
// the knowledge base: names become materials, texts become SI quantities,
// nominal sizes become actual ones, doubts become variants.
//
// It owns the description file in both directions, parsing and writing. It
// runs no model and judges nothing; defaults it fills in are recorded, so that
// a report can print them.
package assembly

import (
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// Resolved is a whole house resolved against a base.
type Resolved struct {
	House      *House
	Place      *kb.Place
	Edition    string // empty when not given
	State      string // of the code entry, else of the place
	Zone       string // "5A"; of the code entry, else of the place's 2006-2018 map
	ZoneFrom   string // "given", "place" or "" when unknown
	Confirmed  bool
	Tightness  string // leaky typical tight
	Heating    RoomState
	Cooling    *RoomState // nil without cooling
	Assemblies []*Assembly
	Finishes   []ResolvedFinish
	Rooms      []ResolvedRoom
	Cold       []ResolvedCold
	Air        []TakenAir // readings of room air
	Defaults   []Default
}

// RoomState is room air in SI.
type RoomState struct {
	Temperature float64        // °C
	Humidity    float64        // 0..1
	SupplyAir   float64        // °C, 0 when not given
	Read        bool           // Humidity comes from readings
	Readings    quantity.Range // of humidity, with the error of the instrument; only with Read
}

// Default is a value the description did not give.
type Default struct {
	Where string // path in the file: assemblies / north wall / bay / fraction
	What  string // in words, with the value
	From  string // id of the assumption, or empty
}

// Assembly is one assembly with its doubts. Variants has at least one entry;
// the first settles every doubt by its first choice.
type Assembly struct {
	House      *Resolved
	Described  *Described
	Index      int // in House.Assemblies
	Name       string
	Kind       Kind
	Between    [2]Side
	Faces      Faces
	Slope      float64 // rise over run, 0 when flat or a wall
	Area       float64 // m², 0 when not given
	Openings   float64 // m²
	BelowGrade float64 // m
	Edge       *ResolvedEdge
	Space      ResolvedSpace
	Rain       Rain
	State      State
	Needs      []string
	Doubts     []Doubt
	Variants   []*Variant
	Taken      []Taken // readings on its layers
	Cornered   bool    // more combinations of doubts than are analyzed: only the ends were taken
}

// ResolvedEdge is the insulation at the edge of a slab; both are 0 without any.
type ResolvedEdge struct {
	Resistance float64 // m²·K/W
	Depth      float64 // m
}

// ResolvedSpace is the space on the first side. What is not given is not set.
type ResolvedSpace struct {
	Vents    float64 // m² of net free area
	VentsSet bool
	High     float64 // 0..1
	HighSet  bool
	Ground   Ground
	Air      SpaceAir
}

// Doubt is something the description leaves open.
type Doubt struct {
	Pos     strict.Pos
	Where   string    // layer or coat in words
	Choices []string  // as written; "none" leaves the layer out
	Of      DoubtKind // what is in doubt
	Layer   string    // name of the layer
}

// DoubtKind says what of a layer is in doubt.
type DoubtKind string

// The kinds of doubts.
const (
	OfMaterial DoubtKind = "material"
	OfFill     DoubtKind = "fill"
	OfCoating  DoubtKind = "coating"
	OfCoats    DoubtKind = "coats" // how many
)

// Settled is one doubt settled one way.
type Settled struct {
	Doubt  int
	Choice string
}

// Variant is one way the assembly may be built.
type Variant struct {
	Settled []Settled
	Layers  []*Part
}

// Part is one resolved layer of a variant.
type Part struct {
	Layer     int // index of the described layer
	Name      string
	Material  *kb.Material // nil for a cavity; the framing material for a framed part
	Cavity    bool
	Air       AirSpace // for a cavity
	Framed    bool
	Depth     float64        // m: thickness of board or plaster, depth of framing or cavity; 0 for sheets
	Spacing   float64        // m, for framing
	Fraction  float64        // framing share of the area
	Fills     []PartFill     // for a framed part; an air space is a fill without material
	CoatsOut  []*kb.Material // toward the first side, from the part outward, one entry for each coat
	CoatsIn   []*kb.Material // toward the second side
	Color     Color
	Performs  []string
	Sealed    bool
	SealedSet bool // whether the description says
	State     State
}

// PartFill is one fill between the framing.
type PartFill struct {
	Material *kb.Material // nil: air
	Depth    float64      // m
}

// ResolvedFinish is one line of the finish schedule. What is not given is 0.
type ResolvedFinish struct {
	Finish    *Finish
	Name      string         // its part, with what tells it from others of the same room and part
	Materials []*kb.Material // more than one when in doubt
	Length    float64        // m
	Area      float64        // m²
	Thickness float64        // m, of the cross section
	Width     float64        // m, of the cross section
	State     State
	Coats     []*kb.Material // from the finish outward, one entry for each coat, doubts by their first choice
}

// ResolvedRoom is a room in SI.
type ResolvedRoom struct {
	Room     *Room
	Area     float64 // m²
	Height   float64 // m
	Moisture float64 // kg given off in a day, 0 when not given
}

// ResolvedCold is a cold surface in SI. What is not given is 0.
type ResolvedCold struct {
	Surface    *ColdSurface
	Inside     float64 // °C
	InsideSet  bool    // whether the temperature inside is given
	Insulation float64 // m²·K/W
	Diameter   float64 // m, outside of the pipe or round duct, without insulation
}
