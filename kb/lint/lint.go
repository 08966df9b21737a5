// Package lint owns what the data of a base must satisfy beyond what loading
// checks: figures that contradict each other, marks of evidence that do not
// fit, entries that nothing uses, texts that do not belong.
//
// It reads the base and never changes it. Each check has a name, sees the whole
// base and reports every breach.
package lint

import (
	"cmp"
	"fmt"
	"slices"

	"relath/kb"
	"relath/kb/strict"
)

// Problem is one breach of one check.
type Problem struct {
	strict.Pos
	Check   string // name of the check
	Message string
}

// String writes file:line:column: message [check].
func (p Problem) String() string { return fmt.Sprintf("%s: %s [%s]", p.Pos, p.Message, p.Check) }

// check is one rule for the data.
type check struct {
	name  string
	about string
	run   func(*kb.Base, report)
}

// report takes a breach.
type report func(pos strict.Pos, format string, args ...any)

// checks lists all checks by name.
func checks() []check {
	return []check{
		{"absorption", "water held at 80 % humidity is less than at free saturation, which fits into the pores", checkAbsorption},
		{"advise", "a material whose vapor values are all of high doubt is never recommended", checkAdvise},
		{"basis", "what is said about composition and mold has a reason and a source", checkBasis},
		{"choices", "no entry prefers practice or high doubt over a measured value", checkChoices},
		{"coated", "coats never lower the resistance of what they are on", checkCoated},
		{"cups", "the dry cup is never more open than the wet one; isotherms do not fall", checkCups},
		{"doubles", "no value stands twice", checkDoubles},
		{"evidence", "marks of evidence fit the kind of source; derived values have a formula", checkEvidence},
		{"examples", "houses in rules, tables and starters are houses", checkExamples},
		{"ids", "ids are plain words joined by hyphens", checkIDs},
		{"lookups", "rows of a table to be read stand once and have their marks; tables of codes carry a caution", checkLookups},
		{"names", "no mark of a trade name or a company", checkNames},
		{"places", "monthly figures of a place are in order", checkPlaces},
		{"plausible", "figures lie where such materials lie", checkPlausible},
		{"pores", "density and porosity belong to one material", checkPores},
		{"recipes", "a swap says all that is needed to build and keep it", checkRecipes},
		{"scales", "a property is given for what it scales with, and with the thickness that it needs", checkScales},
		{"spelling", "American spelling", checkSpelling},
		{"spreads", "the spread of a curve says what it rests on, and two curves of one kind do not carry one each", checkSpreads},
		{"thermal", "thermal resistance and conductivity of a material agree, or the entry says why not", checkThermal},
		{"thickness", "usual and sold thicknesses lie between the least and the most", checkThickness},
		{"unused", "what is defined is used", checkUnused},
		{"vapor", "vapor figures of a material agree, or the entry says why not", checkVapor},
	}
}

// Check runs all checks on a base from [kb.Load], whose entries know where they
// stand. The problems are sorted by place.
func Check(b *kb.Base) []Problem {
	var all []Problem
	for _, c := range checks() {
		c.run(b, func(pos strict.Pos, format string, args ...any) {
			all = append(all, Problem{Pos: pos, Check: c.name, Message: fmt.Sprintf(format, args...)})
		})
	}
	slices.SortStableFunc(all, func(x, y Problem) int {
		return cmp.Or(cmp.Compare(x.File, y.File), cmp.Compare(x.Line, y.Line), cmp.Compare(x.Column, y.Column), cmp.Compare(x.Check, y.Check))
	})
	return all
}

// values visits every value of the base with the entry that it belongs to.
func values(b *kb.Base, visit func(v *kb.Value)) {
	visitAll := func(list []kb.Value) {
		for i := range list {
			visit(&list[i])
		}
	}
	for _, m := range b.Materials {
		visitAll(m.Values)
	}
	for _, s := range b.Systems {
		visitAll(s.Values)
	}
	for _, r := range b.Recipes {
		visitAll(r.Coverage)
	}
}
