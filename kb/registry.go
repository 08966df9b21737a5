package kb

import (
	"relath/kb/quantity"
	"relath/kb/strict"
)

// Property is one entry of properties.yaml, the glossary of what materials have.
type Property struct {
	Pos       strict.Pos         `yaml:",pos"`
	ID        string             `yaml:"property,required"`
	Title     string             `yaml:"title,required"`
	Dimension quantity.Dimension `yaml:"dimension,required"`
	Better    string             `yaml:"better"` // higher lower, or empty
	Scales    string             `yaml:"scales"` // layer: as thick as stated; substance: whatever the thickness; coat: one coat; item: the piece
	About     string             `yaml:"about,required"`
	Source    string             `yaml:"source"` // of the definition
}

// Duty is one entry of duties.yaml: something a layer is there to do.
type Duty struct {
	Pos     strict.Pos `yaml:",pos"`
	ID      string     `yaml:"duty,required"`
	Title   string     `yaml:"title,required"`
	About   string     `yaml:"about,required"`
	Combine string     `yaml:"combine,required"` // sum series one chain system any
	Needs   string     `yaml:"needs"`            // sealed: the layer must be sealed
	Order   []string   `yaml:"order"`            // for a chain, from the weather inward
	Verdict Verdict    `yaml:"verdict"`          // depends: never a plain yes
	Asks    []string   `yaml:"asks"`             // what must be known or who must agree
}

// Requirement lists the duties that a kind of assembly must have.
type Requirement struct {
	Pos     strict.Pos `yaml:",pos"`
	Kind    []string   `yaml:"kind,required"`
	Between []string   `yaml:"between"` // when one side is one of these
	Duties  []string   `yaml:"duties,required"`
}

// Term is one word of the closed vocabulary that rules and code tables read.
type Term struct {
	Pos   strict.Pos `yaml:",pos"`
	ID    string     `yaml:"term,required"`
	About string     `yaml:"about,required"`
}

// Fact is one entry of facts.yaml: something an analysis or a description says,
// which rules may read.
type Fact struct {
	Pos       strict.Pos         `yaml:",pos"`
	ID        string             `yaml:"fact,required"`
	Scope     string             `yaml:"scope,required"` // assembly layer work
	Type      string             `yaml:"type,required"`  // quantity words flag
	Dimension quantity.Dimension `yaml:"dimension"`
	Words     []string           `yaml:"words"` // allowed words; empty with Of set, or free
	Of        string             `yaml:"of"`    // terms duties: the words are ids of that registry
	Title     string             `yaml:"title,required"`
	Model     string             `yaml:"model"`
	Better    string             `yaml:"better"`    // higher lower, or empty
	Screen    string             `yaml:"screen"`    // before-after: printed in the comparison of a swap
	Worth     strict.Text        `yaml:"worth"`     // the least change for the better that alone is worth a swap; empty: none is
	WorthFor  string             `yaml:"worth-for"` // recipe: only for a recipe; empty: for any swap
	About     string             `yaml:"about,required"`

	WorthSI float64 `yaml:"-"`
}

// Model is one entry of models.yaml.
type Model struct {
	Pos    strict.Pos `yaml:",pos"`
	ID     string     `yaml:"model,required"`
	Title  string     `yaml:"title,required"`
	About  string     `yaml:"about,required"`
	Limits []string   `yaml:"limits"` // what it does not see; printed with its results
	Basis  []Basis    `yaml:"basis,required"`
}

// Assumption is one entry of assumptions.yaml: a default of ours with its range.
type Assumption struct {
	Pos   strict.Pos         `yaml:",pos"`
	ID    string             `yaml:"assumption,required"`
	Title string             `yaml:"title,required"`
	Dim   quantity.Dimension `yaml:"dimension,required"`
	Value strict.Text        `yaml:"value"`
	Range strict.Text        `yaml:"range"`
	Basis `yaml:",inline"`

	SI quantity.Range `yaml:"-"`
}

// Source is one entry of sources.yaml.
type Source struct {
	Pos     strict.Pos `yaml:",pos"`
	ID      string     `yaml:"source,required"`
	Title   string     `yaml:"title,required"`
	By      string     `yaml:"by"` // author or publisher
	Year    string     `yaml:"year"`
	Kind    string     `yaml:"kind,required"` // handbook standard code paper report agency web practice ours
	Address string     `yaml:"address"`
	Note    string     `yaml:"note"`
}

// Place is one entry of places/.
type Place struct {
	Pos       strict.Pos  `yaml:",pos"`
	ID        string      `yaml:"id,required"`
	Name      string      `yaml:"name,required"`
	Region    string      `yaml:"region,required"`
	Country   string      `yaml:"country,required"`
	Latitude  float64     `yaml:"latitude,required"`
	Longitude float64     `yaml:"longitude,required"`
	Elevation strict.Text `yaml:"elevation"`
	Zone      string      `yaml:"zone"` // of the 2006-2018 map; confirmed by the user
	ZoneBasis Basis       `yaml:"zone-basis"`
	Months    []Series    `yaml:"months,required"`
	Notes     []string    `yaml:"notes"`
}

// Series is one monthly quantity of a place: twelve numbers and a unit.
type Series struct {
	Pos      strict.Pos  `yaml:",pos"`
	Quantity string      `yaml:"quantity,required"` // temperature, daily-maximum, daily-minimum, humidity, vapor-pressure, precipitation, precipitation-days, wind, sun, ...
	Values   strict.Text `yaml:"values,required"`
	Basis    `yaml:",inline"`

	SI []float64 `yaml:"-"`
}

// Starter is one entry of starters/: a typical assembly of an era.
type Starter struct {
	Pos     strict.Pos `yaml:",pos"`
	ID      string     `yaml:"id,required"`
	Title   string     `yaml:"title,required"`
	Era     Era        `yaml:"era"`
	About   string     `yaml:"about,required"`
	Confirm []string   `yaml:"confirm"`        // what to confirm on site
	House   string     `yaml:"house,required"` // a house file
	Basis   []Basis    `yaml:"basis,required"`
}
