// Package swap finds what could replace a layer, applies it to the description,
// analyzes the changed assembly again, and keeps what came of it: proposals
// that were recomputed, and rejections with their reasons.
package swap

import (
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// Standing says what a proposal needs before it can be built.
type Standing string

// The standings, from free to blocked.
const (
	Free          Standing = "free"
	Warned        Standing = "with cautions"
	NeedsEngineer Standing = "needs an engineer"
	Blocked       Standing = "blocked"
)

// Advice is the answer for one assembly.
type Advice struct {
	Assembly   string
	Before     *analysis.Result
	Findings   []rule.Finding // of the assembly as described
	Cautions   []rule.Caution
	Leave      string // not empty: leave it alone, and why
	Proposals  []Proposal
	Rejections []Rejection
}

// Proposal is one swap, applied and recomputed.
type Proposal struct {
	ID         string // stable within the house: recipe or material and layer
	Title      string
	Recipe     *kb.Recipe   // nil for a single material matched by duty and property
	Material   *kb.Material // for single materials
	Layer      string       // the layer it replaces or changes
	Standing   Standing
	Why        string
	Changes    []Change
	House      *assembly.House // the description with the swap applied: Round trip
	After      *analysis.Result
	Compare    []Compared // before and after, in the order of facts.yaml
	Resolved   []rule.Finding
	Introduced []rule.Finding
	Remaining  []rule.Finding
	Duties     []DutyChange
	Needs      []kb.Need
	Cautions   []rule.Caution
}

// Change is one line of what is done.
type Change struct {
	Layer string
	From  string // in words; empty: added
	To    string // in words; empty: taken out
}

// Compared is one fact before and after.
type Compared struct {
	Fact          *kb.Fact
	Before, After quantity.Range
	Known         bool
	Better        string // better worse same unclear: ranges overlap
	Mark          kb.Evidence
}

// DutyChange says who does a duty before and after.
type DutyChange struct {
	Duty          string
	Before, After string     // names of layers
	Verdict       kb.Verdict // of the cover after
	Asks          []string
}

// Rejection is a candidate that was turned down, and why.
type Rejection struct {
	Candidate string // title or name
	ID        string // recipe or material
	Layer     string
	Because   []string
}
