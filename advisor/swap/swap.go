// Package swap finds what could replace a layer, applies it to the description,
// analyzes the changed assembly again, and keeps what came of it: proposals
// that were recomputed, and rejections with their reasons.
//
// It owns candidates, their application and their standing. Conditions and
// verdicts are those of package rule, numbers those of package analysis; it
// shows no swap that was not recomputed.
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
	Assembly   *assembly.Assembly
	Before     *analysis.Result
	Findings   []rule.Finding // of the assembly as described
	Cautions   []rule.Caution
	Leave      string // not empty: leave it alone, and why
	Proposals  []Proposal
	Joint      []Proposal // turned down by themselves for what another swap may lift: pieces of plans only
	Rejections []Rejection
	Plans      *Planning // whole plans, only where they were asked for
}

// Proposal is one swap, applied and recomputed.
type Proposal struct {
	ID         string // recipe or material, and the layer; stable within the house
	Title      string
	Recipe     *kb.Recipe   // nil for a single material matched by duty and property
	Material   *kb.Material // for single materials
	Layer      string       // the first layer it replaces or changes
	Standing   Standing
	Why        string
	Changes    []Change
	House      *assembly.House // the description with the swap applied
	After      *analysis.Result
	Compare    []Compared     // before and after, in the order of the registry
	Resolved   []rule.Finding // said before and no longer
	Introduced []rule.Finding // brought by the swap, or made worse by it
	Remaining  []rule.Finding // also said of the old layers if they were new
	Duties     []DutyChange
	Needs      []kb.Need
	Asks       []string // what must be found out before it surely fits, in words
	Cautions   []rule.Caution
	Alone      []string  // what keeps it from being built by itself and another swap may lift, in words
	Hourly     *Verified // nil unless hourly runs were made
}

// Change is one line of what is done.
type Change struct {
	Layer string
	From  string // in words; empty: added
	To    string // in words; empty: taken out
	Stays bool   // the layer stays, and To says what is new about it

	Counted bool // work beside the layers that is taken as a quantity
}

// Compared is one fact before and after.
type Compared struct {
	Fact          *kb.Fact
	Before, After quantity.Range
	Change        string // better, worse, same, or unclear where the ranges overlap
	Mark          kb.Evidence
}

// DutyChange says who does a duty before and after.
type DutyChange struct {
	Duty          string
	Before, After []string   // names of layers
	Was           kb.Verdict // before
	Verdict       kb.Verdict // after
	Asks          []string
}

// Rejection is a candidate that was turned down, and why.
type Rejection struct {
	Candidate string // title or name
	ID        string // recipe or material
	Layer     string
	Because   []string
}

// candidate is a change before it is applied.
type candidate struct {
	recipe   *kb.Recipe
	material *kb.Material
	title    string
	at       int // described layer where the run begins
	length   int // layers it replaces; 0 adds
}

// coatsOnly says whether the candidate changes the coats of a layer and
// nothing else.
func (c candidate) coatsOnly() bool {
	return c.recipe != nil && c.recipe.Coats != nil && len(c.recipe.With) == 0
}

// span is the number of layers that are taken out or coated.
func (c candidate) span() int {
	if c.coatsOnly() {
		return 1
	}
	return c.length
}

// id names a candidate within an assembly.
func (c candidate) id() string {
	if c.recipe != nil {
		return c.recipe.ID
	}
	return c.material.ID
}
