package kb

import (
	"relath/kb/quantity"
	"relath/kb/strict"
)

// Condition is one test over facts. In YAML it is a mapping with exactly one
// key: a fact and its test, or any, all, not, some-layer, no-layer, every-layer
// with a list of conditions.
//
//   - zone: [5, 6, 7, 8]                 the fact is one of these words
//   - peak-condensate: {over: 0.2 kg/m2} the fact is a quantity
//   - framed: yes                        the fact is a flag
//   - some-layer: [{terms: [foam-plastic]}, {side: [outside]}]
type Condition struct {
	Pos    strict.Pos
	Fact   string   // id of facts.yaml; empty for the combiners
	Words  []string // the fact is one of these
	Flag   string   // yes or no
	Known  string   // yes or no: whether the fact is known at all
	Op     string   // over under at-least at-most
	Limit  string   // the quantity as written
	Join   string   // any all not some-layer no-layer every-layer
	Nested []Condition

	LimitSI quantity.Range // set when loaded; one number
}

// FindingKind sorts what rules say.
type FindingKind string

// Allowed lists the kinds of findings.
func (FindingKind) Allowed() []string {
	return []string{"moisture", "mold", "food", "code", "hazard", "data-gap"}
}

// Level says what a finding does to a proposal.
type Level string

// Allowed lists the levels, the strongest first: a block is not proposed as a
// plain swap, an engineer is needed, a warning goes with it, information.
func (Level) Allowed() []string { return []string{"block", "engineer", "warn", "info"} }

// Verdict is one of the four answers.
type Verdict string

// The four verdicts. A depends names the input that decides it.
const (
	Yes     Verdict = "yes"
	No      Verdict = "no"
	Depends Verdict = "depends"
	Unknown Verdict = "unknown"
)

// Allowed lists the verdicts.
func (Verdict) Allowed() []string { return []string{"yes", "no", "depends", "unknown"} }

// Rule is one entry of rules/: when its conditions hold, it has something to
// say. Its question is whether the assembly is sound in this respect, so
// conditions that surely hold give the verdict no, or the one it names.
type Rule struct {
	Pos      strict.Pos  `yaml:",pos"`
	ID       string      `yaml:"id,required"`
	Title    string      `yaml:"title,required"`
	Kind     FindingKind `yaml:"kind,required"`
	Level    Level       `yaml:"level,required"`
	Judges   string      `yaml:"judges"` // any (default) or proposed: work that is new or changed
	When     []Condition `yaml:"when,required"`
	Verdict  Verdict     `yaml:"verdict"`      // when the conditions hold; default no
	Say      string      `yaml:"say,required"` // one sentence; {layer} {fact-id} are filled in
	Why      string      `yaml:"why,required"`
	Left     string      `yaml:"left"`    // what it costs to do nothing about what stands, one or two sentences
	Settle   string      `yaml:"settle"`  // what to measure or choose when it depends
	Measure  []string    `yaml:"measure"` // what settles it on site: ids of measurements/
	Wish     []string    `yaml:"wish"`    // properties or duties a swap should bring, for candidates
	Cautions []string    `yaml:"cautions"`
	Basis    []Basis     `yaml:"basis,required"`
	Avoid    string      `yaml:"avoid,required"`  // a house file on which it must fire
	Prefer   string      `yaml:"prefer,required"` // a house file on which it must stay silent
}

// Table is one entry of codes/: a code table as rules. Where Applies holds, at
// least one row of Accept must hold; otherwise the table speaks.
type Table struct {
	Pos       strict.Pos  `yaml:",pos"`
	ID        string      `yaml:"id,required"`
	Title     string      `yaml:"title,required"`
	Section   string      `yaml:"section"`
	Subject   string      `yaml:"subject,required"` // retarder energy air-leakage roof crawl slab bracing subfloor fire
	Applies   []Condition `yaml:"applies,required"`
	Except    []Row       `yaml:"except"` // rows that take the assembly out of the table
	Accept    []Row       `yaml:"accept,required"`
	Otherwise Otherwise   `yaml:"otherwise,required"`
	Basis     []Basis     `yaml:"basis,required"`
	Cautions  []string    `yaml:"cautions"`
	Avoid     string      `yaml:"avoid,required"`
	Prefer    string      `yaml:"prefer,required"`
}

// Row is one way through a table.
type Row struct {
	Pos     strict.Pos  `yaml:",pos"`
	Row     string      `yaml:"row,required"` // in words
	When    []Condition `yaml:"when,required"`
	Verdict Verdict     `yaml:"verdict"` // depends: it holds only when what Asks says is so
	Asks    string      `yaml:"asks"`
	Basis   *Basis      `yaml:"basis"` // when it differs from the table's
}

// Otherwise is what a table says when no row holds.
type Otherwise struct {
	Level Level  `yaml:"level,required"`
	Say   string `yaml:"say,required"`
	Why   string `yaml:"why,required"`
}

// Caution is one entry of cautions/: a hazard, its trigger, and neutral words
// that defer to local code and licensed practice.
type Caution struct {
	Pos   strict.Pos  `yaml:",pos"`
	ID    string      `yaml:"id,required"`
	Title string      `yaml:"title,required"`
	When  []Condition `yaml:"when"` // printed wherever these hold; without, only where something names it
	Say   string      `yaml:"say,required"`
	Owner string      `yaml:"owner"` // "yes": said to those who live in the house too
	Ask   string      `yaml:"ask"`   // who must confirm: electrician, engineer, abatement contractor, official ...
	Basis []Basis     `yaml:"basis,required"`
}
