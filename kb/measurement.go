package kb

import "relath/kb/strict"

// Measurement is one entry of measurements/: something cheap to do on site that
// settles what a finding or a range hangs on.
type Measurement struct {
	Pos      strict.Pos `yaml:",pos"`
	ID       string     `yaml:"id,required"`
	Title    string     `yaml:"title,required"` // what to do in a few words: count the coats under a scratch
	Settles  []Settles  `yaml:"settles,required"`
	Do       string     `yaml:"do,required"`
	Takes    string     `yaml:"takes,required"` // tools and time
	Means    []string   `yaml:"means,required"` // which reading means what
	Enter    string     `yaml:"enter"`          // how it is written into the description; {layer} is filled in
	Cautions []string   `yaml:"cautions"`
	Basis    []Basis    `yaml:"basis,required"`
}

// Settles says what a measurement settles: one of its lists names the input, and
// terms, where given, what the input belongs to.
type Settles struct {
	Pos        strict.Pos    `yaml:",pos"`
	Doubt      []string      `yaml:"doubt"`      // coats coating material fill
	Property   []string      `yaml:"property"`   // a property of a material
	Assumption []string      `yaml:"assumption"` // a default of ours
	Fact       []string      `yaml:"fact"`       // something that the description leaves out
	Finding    []FindingKind `yaml:"finding"`    // any such finding on what stands
	Terms      []string      `yaml:"terms"`      // of the material; any of them
}
