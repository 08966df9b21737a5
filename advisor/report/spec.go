package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/house"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
)

// Plan is a set of swaps for one assembly, applied one after the other and
// analyzed as a whole. Without steps it is the assembly as described.
type Plan struct {
	Before   *analysis.Result
	After    *analysis.Result // the same as Before without steps
	Steps    []*swap.Proposal
	Findings []rule.Finding // of After
	Cautions []rule.Caution // of After and of every step
	Leave    string         // not empty: leave it alone, and why
	Others   []string       // ids of swaps that could have been chosen instead, where they were looked for
	Cost     *takeoff.Cost  // of what the plan puts in, nil without prices
	Limits   []swap.Limit   // of what is bought, only on the papers of a house
}

// File gives the changed description, as a file holds it.
func (p *Plan) File() ([]byte, error) { return assembly.Write(p.After.Assembly.House.House) }

// Spec is what the papers of a house are made of.
type Spec struct {
	House, Before *assembly.Resolved // with the plans, and as described
	Plans         []Plan             // of every assembly
	Finishes      []SpecFinish
	Takeoff       *takeoff.Takeoff
	Cost          *takeoff.Cost     // nil without prices
	Schedule      *takeoff.Schedule // nil where nothing is bought
	Whole         *house.Result     // the house as it is, only for the client page
}

// SpecFinish is a finish that is put in new.
type SpecFinish struct {
	Finish   *assembly.ResolvedFinish
	Cautions []rule.Caution
	Swap     *FinishSwap // nil for what the description proposes
}

// FinishSwap is a swap chosen for a finish.
type FinishSwap struct {
	Proposal *swap.FinishProposal
	Old      *kb.Material
}

// swapped lists the finishes that take the place of others.
func (s *Spec) swapped() []*SpecFinish {
	var list []*SpecFinish
	for i := range s.Finishes {
		if s.Finishes[i].Swap != nil {
			list = append(list, &s.Finishes[i])
		}
	}
	return list
}

// Spec makes the specification of a house: what each trade can build from, in
// the three parts of a section under the numbers of the trade.
func (m Maker) Spec(s Spec) *Document {
	p := m.page("Specification: "+s.House.House.House, m.whereHouse(s.House))
	p.doc.Dense = true
	sections := p.sectionsOf(&s)
	p.para(lead, say(specInShort(&s, sections)))
	for _, x := range s.Plans {
		p.warnings(x.After)
	}
	for _, w := range s.Takeoff.Warnings {
		p.para(warning, say(capital(stop(w))))
	}
	p.shared = p.sharedTexts(sections)
	p.general01 = p.generalSections(&s, sections)
	p.contents(sections)
	p.specAssemblies(&s)
	p.generally(p.general01)
	p.inspections(s.Schedule)
	p.demolition(&s)
	for i := range sections {
		p.section(&s, sections, i)
	}
	if s.Cost != nil {
		p.cost(s.Cost)
	}
	if s.Schedule != nil {
		p.schedule(s.Schedule)
	}
	p.specAgree(&s)
	p.specCautions(&s)
	p.specAssumptions(&s)
	if len(sections) > 0 {
		p.substitution()
	}
	p.description(&s)
	return p.finish()
}

// specInShort says what the specification is of.
func specInShort(s *Spec, sections []section) string {
	var parts []string
	for i := range s.Plans {
		if x := &s.Plans[i]; len(x.Steps) > 0 {
			parts = append(parts, planInShort(x))
		}
	}
	for _, f := range s.swapped() {
		parts = append(parts, fmt.Sprintf("%s, %s: %s instead of %s.", capital(f.Finish.Finish.Room.Value), f.Finish.Name, lower(f.Swap.Proposal.Material.Name), lower(f.Swap.Old.Name)))
	}
	worked := slices.ContainsFunc(s.Plans, func(x Plan) bool { return len(x.Steps) > 0 })
	if len(sections) == 0 && worked {
		return strings.Join(append(parts, "The work is told in division 01; every plan was applied to the description and the assembly was computed again."), " ")
	}
	if len(sections) == 0 {
		return strings.TrimSpace(strings.Join(append(parts, "Nothing is bought here: what stands is left as it is.", asksForFinishes(s)), " "))
	}
	parts = append(parts, fmt.Sprintf("What is bought is specified in %s, by what it must do and never by brand.", count(len(sections), "section")))
	if worked {
		parts = append(parts, "Every plan was applied to the description and the assembly was computed again.")
	}
	return strings.Join(parts, " ")
}

// Words names the steps of a plan with their ids; "" for none.
func (x *Plan) Words() string {
	if len(x.Steps) == 0 {
		return ""
	}
	var names, ids []string
	for _, s := range x.Steps {
		names, ids = append(names, lower(s.Title)), append(ids, s.ID)
	}
	return fmt.Sprintf("%s (%s).", join(names, "and"), strings.Join(ids, ", "))
}

// planInShort names the swaps of an assembly.
func planInShort(x *Plan) string {
	var names []string
	for _, s := range x.Steps {
		names = append(names, lower(s.Title))
	}
	return fmt.Sprintf("%s: %s.", capital(x.Before.Assembly.Name), join(names, "and"))
}

// contents lists the sections.
func (p *page) contents(sections []section) {
	var rows [][]Text
	for i := range sections {
		x := &sections[i]
		var where []string
		for _, l := range x.lines {
			where = append(where, placeOf(l.line))
		}
		rows = append(rows, []Text{say(x.number), say(x.title), say(strings.Join(unique(where), "; "))})
	}
	if len(rows) == 0 {
		return
	}
	p.heading(1, "Sections")
	t := Table{Heads: []string{"Section", "Title", "For"}, Rows: rows}
	if l := p.Base.Lookup("spec-sections"); l != nil {
		t.Caption, t.Mark, t.Notes = "Numbers and titles of the trade", string(l.Mark(nil)), p.bases(l.Basis)
	}
	p.table(t)
}

func placeOf(l *takeoff.Line) string {
	return placeWords(l.Where.Assembly, l.Where.Layer, l.Where.Room, l.Where.Part)
}

// specAssemblies writes each assembly that is worked on, and names the others.
func (p *page) specAssemblies(s *Spec) {
	if len(s.Plans) == 0 {
		return
	}
	p.heading(1, "The assemblies")
	var left []string
	for i := range s.Plans {
		x := &s.Plans[i]
		if !s.works(x) {
			left = append(left, x.After.Assembly.Name)
			continue
		}
		p.specAssembly(x)
	}
	if len(left) > 0 {
		p.para(plain, say("Left as it stands: "+join(left, "and")+"."))
	}
}

// works says whether something is bought for an assembly or taken out of it.
func (s *Spec) works(x *Plan) bool {
	return len(x.Steps) > 0 || slices.ContainsFunc(s.Takeoff.Lines, func(l takeoff.Line) bool { return l.Where.Assembly == x.After.Assembly.Name })
}

// specAssembly writes one assembly: what is done, its layers, what the code and
// the numbers still say, and who takes each duty.
func (p *page) specAssembly(x *Plan) {
	a := x.After.Assembly
	p.heading(2, capital(a.Name))
	for _, step := range x.Steps {
		p.para(plain, say(fmt.Sprintf("%s (%s). Why: %s", step.Title, step.ID, lower(stop(step.Why)))))
		p.list(changes(step.Changes)...)
	}
	p.planCuts(x)
	p.layers(x.After)
	p.deeper = 1
	p.beforeAfter(x)
	p.specFindings(x)
	p.handedOver(x)
	if len(x.Others) > 0 {
		p.para(quiet, say("These swaps hold up here too and can be chosen with --plan: "+strings.Join(x.Others, ", ")+"."))
	}
	p.deeper = 0
}

// specFindings writes what still stands out on the changed assembly, code first.
func (p *page) specFindings(x *Plan) {
	if len(x.Findings) == 0 {
		p.para(plain, say("No finding of moisture, mold, code or hazard is left on this assembly."))
		return
	}
	list := slices.Clone(x.Findings)
	slices.SortStableFunc(list, func(a, b rule.Finding) int { return codeFirst(a) - codeFirst(b) })
	p.para(plain, say("What the code and the numbers still say:"))
	p.findings(list)
}

func codeFirst(f rule.Finding) int {
	if f.Kind == "code" {
		return 0
	}
	return 1
}

// beforeAfter writes the compared facts of both ends of a plan.
func (p *page) beforeAfter(plan *Plan) {
	if len(plan.Steps) == 0 {
		return
	}
	var rows [][]Text
	for _, f := range p.Base.Facts {
		if f.Screen != "before-after" {
			continue
		}
		b, a := across(plan.Before, f.ID), across(plan.After, f.ID)
		if b.Known && a.Known {
			rows = append(rows, []Text{say(capital(f.Title), p.model(f.Model)), say(p.factWords(f, b)), marked(p.factWords(f, a), b.Evidence.Weaker(a.Evidence))})
		}
	}
	p.table(Table{Caption: "Before and after, both computed", Heads: []string{"Fact", "Before", "After"}, Rows: rows})
}

// specAgree says who must agree before the work, by person, and what is open.
func (p *page) specAgree(s *Spec) {
	var needs []kb.Need
	var duties []swap.DutyChange
	var asks []string
	for i := range s.Plans {
		for _, step := range s.Plans[i].Steps {
			needs, duties, asks = append(needs, step.Needs...), append(duties, step.Duties...), append(asks, step.Asks...)
		}
	}
	for _, f := range s.swapped() {
		needs = append(needs, f.Swap.Proposal.Needs...)
	}
	if len(needs)+len(asks)+len(s.Cautions()) > 0 {
		p.heading(1, "Who must agree and what must be known first")
		p.confirm(needs, duties, s.Cautions())
		p.asks(unique(asks))
	}
}

// Cautions joins the cautions of all the work; a certain one replaces one that
// only may apply.
func (s *Spec) Cautions() []rule.Caution {
	var list []rule.Caution
	for i := range s.Plans {
		if s.works(&s.Plans[i]) {
			list = rule.JoinCautions(list, s.Plans[i].Cautions)
		}
	}
	for i := range s.Finishes {
		list = rule.JoinCautions(list, s.Finishes[i].Cautions)
	}
	return list
}

func (p *page) specCautions(s *Spec) {
	if list := s.Cautions(); len(list) > 0 {
		p.heading(1, "Cautions")
		p.cautionsOf(list)
	}
}

// specAssumptions lists once what was assumed for all assemblies.
func (p *page) specAssumptions(s *Spec) {
	var items []Text
	var seen []string
	for i := range s.Plans {
		if !s.works(&s.Plans[i]) {
			continue
		}
		for _, a := range s.Plans[i].After.Assumptions {
			if text := assumptionWords(a) + "."; !slices.Contains(seen, text) {
				seen = append(seen, text)
				items = append(items, marked(text, a.Basis.Evidence, p.basis(a.Basis)))
			}
		}
	}
	o := Order{Takeoff: s.Takeoff, Schedule: s.Schedule}
	items = append(items, p.factorsOf(o)...)
	if len(items) > 0 {
		p.heading(1, "What was assumed")
		p.fine(items)
	}
}

// description writes the house with its plans as a file.
func (p *page) description(s *Spec) {
	if len(s.swapped()) == 0 && !slices.ContainsFunc(s.Plans, func(x Plan) bool { return len(x.Steps) > 0 }) {
		return
	}
	text, err := assembly.Write(s.House.House)
	if err != nil {
		p.para(warning, say("The changed description cannot be written: "+stop(err.Error())))
		return
	}
	p.heading(1, "The description")
	p.add(Block{Verbatim: &Verbatim{Caption: "The house with these plans; saved as a file it gives the same numbers", Text: string(text)}})
}
