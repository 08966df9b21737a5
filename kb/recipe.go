package kb

import "relath/kb/strict"

// Recipe is one entry of swaps/: a run of layers replaced by another, with all
// that is needed to judge, specify, build and look after it.
type Recipe struct {
	Pos   strict.Pos `yaml:",pos"`
	ID    string     `yaml:"id,required"`
	Title string     `yaml:"title,required"`
	Part  string     `yaml:"part,required"` // assembly, finish

	Replaces [][]Condition `yaml:"replaces"` // one list of conditions for each layer of the run; empty: layers are only added
	After    []Condition   `yaml:"after"`    // for pure additions: inserted on the second side of the layer where this holds
	With     []NewLayer    `yaml:"with"`     // the new run, in the order of the file; empty: the run is left out
	Coats    *NewCoats     `yaml:"coats"`    // for recipes that change coats only
	Beside   []Beside      `yaml:"beside"`   // what else must change with it

	Fits  []Condition `yaml:"fits"`  // over the assembly; all must hold
	Unfit []Unfit     `yaml:"unfit"` // each that holds turns it down, with its reason

	Gains []string `yaml:"gains"` // duties
	Loses []string `yaml:"loses"`
	Meets []string `yaml:"meets"` // subjects of code tables that must still be met with it, surely
	Why   string   `yaml:"why,required"`
	Worse string   `yaml:"worse"` // what it makes worse, in words; the numbers are computed

	Needs    []Need   `yaml:"needs"` // who must agree or confirm
	Cautions []string `yaml:"cautions"`

	Specify string `yaml:"specify"` // how it is specified
	Remove  string `yaml:"remove"`  // how what stands is opened and taken out; not said of new work
	Build   string `yaml:"build"`   // order and manner of work, new or in a house that stands
	Cure    string `yaml:"cure"`    // curing and drying times
	Inspect string `yaml:"inspect"` // hold points
	Care    string `yaml:"care"`    // renewal and what must not be applied later

	Coverage []Value `yaml:"coverage"` // coverage and waste, with units
	Basis    []Basis `yaml:"basis,required"`
}

// NewLayer is a layer that a recipe puts in. Its keys are those of a layer in
// the description file.
type NewLayer struct {
	Pos       strict.Pos  `yaml:",pos"`
	Name      string      `yaml:"name,required"`
	Material  string      `yaml:"material"`
	Thickness strict.Text `yaml:"thickness"` // absent: the usual thickness; "same": that of the layer replaced
	Cavity    strict.Text `yaml:"cavity"`
	Air       string      `yaml:"air"`
	Keep      string      `yaml:"keep"` // "framing": the framing of the replaced layer stays, Material becomes its fill; "empty-framing": it stays without fill; "layer": the next layer of the run stays as it is
	Performs  []string    `yaml:"performs"`
	Sealed    string      `yaml:"sealed"`
	Coats     *NewCoats   `yaml:"coats"`
}

// NewCoats are coats by face; "in" looks to the second side of the assembly.
type NewCoats struct {
	In   []NewCoat `yaml:"in"`
	Out  []NewCoat `yaml:"out"`
	Keep string    `yaml:"keep"` // yes: added over what is there
}

// NewCoat is a coating and how many coats of it.
type NewCoat struct {
	Pos     strict.Pos `yaml:",pos"`
	Coating string     `yaml:"coating,required"`
	Count   int        `yaml:"count"`
}

// Beside is a further change that goes with a swap when its condition holds,
// such as let-in bracing when a panel braced the wall.
type Beside struct {
	Pos   strict.Pos  `yaml:",pos"`
	When  []Condition `yaml:"when"`
	Do    string      `yaml:"do,required"` // in words
	Item  string      `yaml:"item"`        // let-in-braces, where it is taken as a quantity
	Layer *NewLayer   `yaml:"layer"`       // a layer to add
	Place string      `yaml:"place"`       // before or after the new run
}

// Unfit is one reason to turn a recipe down.
type Unfit struct {
	Pos  strict.Pos  `yaml:",pos"`
	When []Condition `yaml:"when,required"`
	Say  string      `yaml:"say,required"`
}

// Need is somebody who must agree before the work.
type Need struct {
	Pos  strict.Pos  `yaml:",pos"`
	When []Condition `yaml:"when"`
	Who  string      `yaml:"who,required"` // engineer official electrician abatement-contractor plumber
	What string      `yaml:"what,required"`
}
