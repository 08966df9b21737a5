package kb

import (
	"relath/kb/quantity"
	"relath/kb/strict"
)

// Evidence says how a number was obtained. The order of the constants is from
// the strongest to the weakest; a derived number inherits its worst input.
type Evidence string

// The marks of evidence, strongest first.
const (
	Read     Evidence = "read"     // checked against the text
	Reported Evidence = "reported" // second-hand, or a practitioner's page
	Recalled Evidence = "recalled" // a published source is named, the value is from memory
	Practice Evidence = "practice" // common practice, no source
	Derived  Evidence = "derived"  // by a stated formula
	Assumed  Evidence = "assumed"  // a default of ours
)

// Allowed lists the marks of evidence, strongest first.
func (Evidence) Allowed() []string {
	return []string{"read", "reported", "recalled", "practice", "derived", "assumed"}
}

// Rank orders the marks: 0 is the strongest. Unknown marks rank last.
func (e Evidence) Rank() int {
	for i, mark := range e.Allowed() {
		if string(e) == mark {
			return i
		}
	}
	return len(e.Allowed())
}

// Weaker returns the weaker of two marks. The empty mark is the strongest.
func (e Evidence) Weaker(other Evidence) Evidence {
	if e == "" || (other != "" && other.Rank() > e.Rank()) {
		return other
	}
	return e
}

// Basis names where a statement comes from.
type Basis struct {
	Source   string   `yaml:"source,required"`
	Locator  string   `yaml:"locator"` // table, figure, equation, section, page
	Evidence Evidence `yaml:"evidence,required"`
	Doubt    string   `yaml:"doubt"` // "high": never preferred where anything else exists
	Note     string   `yaml:"note"`
}

// Conditions under which a value was measured or holds.
type Conditions struct {
	Method      string      `yaml:"method"` // dry-cup wet-cup unspecified service
	Thickness   strict.Text `yaml:"thickness"`
	Density     strict.Text `yaml:"density"`
	Temperature strict.Text `yaml:"temperature"`
	Humidity    strict.Text `yaml:"humidity"`
	Coats       int         `yaml:"coats"`
	Direction   string      `yaml:"direction"` // across-grain along-grain up down
	State       string      `yaml:"state"`     // as the source words it: aged, damp, cracked, stapled laps

	ThicknessSI   float64 `yaml:"-"` // m, 0 when not stated
	DensitySI     float64 `yaml:"-"` // kg/m³, 0 when not stated
	TemperatureSI float64 `yaml:"-"` // K, 0 when not stated
}

// Curve is a property at several relative humidities, both lists as printed,
// numbers apart by spaces and one unit at the end: "10 30 50 70 90 %".
type Curve struct {
	Humidity strict.Text `yaml:"rh,required"`
	Values   strict.Text `yaml:"values,required"`
	Spread   *Spread     `yaml:"spread"`

	RH []float64 `yaml:"-"` // 0..1, rising
	SI []float64 `yaml:"-"` // the property in SI, same length
}

// Spread says by which factors products of a kind differ from the one that a
// curve was measured on. It gives the bounds of the curve; the curve itself
// stays the best value.
type Spread struct {
	Factor strict.Text `yaml:"factor,required"` // "0.5 to 2"; 1 lies within
	Basis  `yaml:",inline"`

	SI quantity.Range `yaml:"-"` // low, 1, high
}

// Value is one number of the base and all that is needed to defend it.
// It is a single value with or without a range, a range alone, or a curve.
type Value struct {
	Pos        strict.Pos  `yaml:",pos"`
	Property   string      `yaml:"property,required"`
	Value      strict.Text `yaml:"value"` // as printed, with its unit: "0.75 perm"
	Range      strict.Text `yaml:"range"` // as printed: "0.7 to 0.8 perm"
	Curve      *Curve      `yaml:"curve"`
	At         Conditions  `yaml:"at"`
	Basis      `yaml:",inline"`
	Formula    string `yaml:"formula"`     // for derived values: how
	Withdrawn  string `yaml:"withdrawn"`   // the reason; the value stays for the record
	ReplacedBy string `yaml:"replaced-by"` // source of the value that replaces it

	SI quantity.Range `yaml:"-"` // low, best, high in SI; for a curve the span
}

// Mark gives the mark of evidence of the value with its bounds: that of the
// value, or of the spread of its curve where that is weaker.
func (v *Value) Mark() Evidence {
	if v.Curve == nil || v.Curve.Spread == nil {
		return v.Evidence
	}
	return v.Evidence.Weaker(v.Curve.Spread.Evidence)
}
