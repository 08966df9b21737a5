// Package rule evaluates the conditions of the knowledge base over facts, with
// three-valued logic and reasons, and turns them into findings.
//
// It owns verdicts and reasons. It computes no physics and holds no threshold:
// those are data.
package rule

import "relath/kb"

// Finding is what one rule or table says about an assembly.
type Finding struct {
	Rule     string // id of the rule or table
	Title    string
	Kind     kb.FindingKind
	Level    kb.Level
	Verdict  kb.Verdict // no: it surely holds; depends; unknown
	Layer    string     // name of the layer it is about, or empty
	Say      string     // one sentence, filled in
	Why      string
	Left     string   // what it costs to do nothing about what stands, or empty
	Settle   string   // what to measure or choose, for depends and unknown
	Decider  string   // the input that decides it: a doubt or a driver
	Hinge    *Hinge   // the same with how it turns, or nil
	Measure  []string // ids of measurements that settle it
	Unlikely bool     // it depends on figures, and by the best of them it does not hold
	Because  []Reason
	Rows     []RowResult // for tables: every row and what it lacks
	Cautions []string    // ids
	Basis    []kb.Basis
	Mark     kb.Evidence // weakest mark among facts and limits that decided
}

// Reason is one line of explanation: a fact, a comparison, a limit.
type Reason struct {
	Fact    string // id, or empty for words
	Layer   string
	Text    string     // "permeance 0.7 perm (0.3 to 0.8) is under 1 perm"
	Verdict kb.Verdict // yes: the condition holds
	Mark    kb.Evidence

	Unlikely bool // a figure is on both sides of its limit, the best of it on the side where the condition fails

	test    *kb.Condition // the comparison behind it, for figures
	negated bool          // the condition is under a negation
}

// RowResult is one row of a table and how it went.
type RowResult struct {
	Row     string
	Verdict kb.Verdict
	Because []Reason
	Basis   kb.Basis
}

// Caution is a caution that applies, with what called for it.
type Caution struct {
	Caution *kb.Caution
	For     []string // rules, recipes, materials or conditions, in words
	Certain bool     // false: it may apply, something is not known
}
