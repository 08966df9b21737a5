// Package analysis turns a resolved assembly into facts: it compiles the
// assembly once to the flat input of package steady, runs the models over the
// corners of its ranges, and names the results by the registry of facts.
//
// It owns which models run and how ranges come about. It judges nothing: it
// does not know good from bad.
package analysis

import (
	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// Estimate is one fact: a quantity with its range, words, or a flag. An
// estimate that is not Known says why in Missing.
type Estimate struct {
	Fact     string
	Known    bool
	Range    quantity.Range // SI, for quantities: Low and High over the corners, Best
	Words    []string       // sorted; all hold, or with Mixed one of them does
	Flag     bool
	Mixed    bool        // words or a flag that differ over the corners
	Evidence kb.Evidence // worst mark among inputs that move it by more than 5 %
	Minor    int         // inputs with a weaker mark that move it less
	Drivers  []Driver    // strongest first
	Inputs   []Input     // every value it was computed from, in the order of the layers
	Missing  string      // why it is not known: which value of which layer
	Warnings []string    // out of a model's range, stand-ins, defaults
}

// Driver is an input and how far its range moves a fact, all else at its best
// value: between Low and High.
type Driver struct {
	Input     Input
	Low, High float64
	Alone     bool // it moves the fact from the best case, all else standing
	Falls     bool // then: the fact falls as the input rises

	From, To float64 // what the input reads at the ends of its range, SI: a permeance at 50 % humidity; both 0 where it is not known
}

// Input names a value of the base or a default that went into a fact.
type Input struct {
	Layer    string // name of the layer, empty for assumptions
	Material string // id of material, system or assumption
	Property string
	Value    *kb.Value // nil for assumptions
}

// Facts holds estimates by fact id.
type Facts map[string]Estimate

// Result is the analysis of one assembly over all its variants.
type Result struct {
	Assembly    *assembly.Assembly
	Variants    []*Variant
	Assumptions []Assumption // what was assumed, for the report: defaults of the description, then those of the methods
	Models      []string     // ids of the models that ran, sorted
	Warnings    []string
	Hourly      *HourlyResult // nil unless the hourly model ran
}

// Variant is the analysis of one variant.
type Variant struct {
	Of     *assembly.Variant
	Facts  Facts
	Layers []LayerFacts // in the order of the parts
	Covers []Cover      // of the duties that the assembly must have
	Levels []Level      // against ground, from the top; nil above grade
	Detail Detail       // of the first variant only

	marks *marks // what decided its facts, for the other variants
}

// LayerFacts holds the facts of one part.
type LayerFacts struct {
	Part  *assembly.Part
	Facts Facts
	Dew   DewMonths
}

// DewMonths says in which months, from January, a part is below a dew point:
// its inward face below that of the room air, its outward face below that of
// the outdoor air while the house is cooled.
type DewMonths struct {
	Room, Outdoor [12]bool
}

// Assumption is one default that was used, in words and as a value.
type Assumption struct {
	ID    string // of assumptions.yaml, or empty
	Text  string
	Basis kb.Basis
}

// Detail holds the numbers behind the facts that a report draws, of the first
// variant: from the best case, with the ends over the corners where they are
// ranges. Package steady numbers layers and planes from the inside.
type Detail struct {
	Input  *steady.Input // the compiled best case
	Layers []Soaked      // in the order of the parts
	Ways   []Way         // in the order of the planes from the first side
	Planes []steady.Plane
	Months [12]Month
}

// Way is the vapor resistance from a plane between two parts, or between two
// fills of one, to both sides at 50 % humidity, s·m²·Pa/kg. Outdoor air that
// moves through a gap counts.
type Way struct {
	Outer, Inner    int // the parts on both sides of the plane
	Outward, Inward quantity.Range
}

// Level is a part of an assembly against ground: its inner surface by month,
// from January, with the surface resistance for corners.
type Level struct {
	Name        string
	Depth       float64     // m below grade
	Outside     [12]float64 // °C: ground, or air above grade
	Temperature [12]float64 // °C
	Humidity    [12]float64 // 0..1; above 1 the surface is below the dew point
}

// Soaked is what leaves a part that is wet on both faces.
type Soaked struct {
	Part         int
	Known        bool
	Outward      Seasons // flow that reaches the air of the first side
	Inward       Seasons // flow that reaches the air of the second side
	LandsOutward int     // part at whose face the difference condenses, -1 for none
	LandsInward  int
}

// Seasons are day-weighted means of a flow, kg/(m² s). A season that does not
// occur is not known.
type Seasons struct {
	Heating, Cooling, Year     quantity.Range
	HeatingKnown, CoolingKnown bool
}

// Month is one month of the best case.
type Month struct {
	Temperature, VaporPressure, Saturation []float64 // at the planes, from the inside
	Gain                                   []float64 // kg/m² in the month, at Detail.Planes
	Water                                  []float64 // kg/m² at the end of the month
}
