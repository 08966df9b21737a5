package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// Plan is a set of swaps for one assembly, applied one after the other and
// analyzed as a whole. Without steps it is the assembly as described.
type Plan struct {
	Before   *analysis.Result
	After    *analysis.Result // the same as Before without steps
	Steps    []*swap.Proposal
	Findings []rule.Finding // of After
	Cautions []rule.Caution // of After and of every step
	Others   []string       // ids of swaps that could have been chosen instead
	Cost     *takeoff.Cost  // of what the plan puts in, nil without prices
	File     string         // the changed description, as a file holds it
}

// Spec makes the sheet that each trade can build from.
func (m Maker) Spec(plan Plan) *Document {
	a := plan.After.Assembly
	p := m.page("Spec sheet: "+title(a), m.where(a))
	p.para(lead, say(planInShort(plan)))
	p.warnings(plan.After)
	p.heading(1, "What is built")
	for _, s := range plan.Steps {
		p.list(changes(s.Changes)...)
	}
	p.layers(plan.After)
	p.heading(1, "Materials and the limits to hold")
	p.materials(plan.After)
	p.work(plan)
	p.agree(plan)
	p.code(plan)
	p.beforeAfter(plan)
	if plan.Cost != nil {
		p.cost(plan.Cost)
	}
	p.closing(plan.After, plan.Cautions)
	if len(plan.Others) > 0 {
		p.heading(1, "Other plans")
		p.para(plain, say("These swaps hold up here too and can be chosen with --plan: "+strings.Join(plan.Others, ", ")+"."))
	}
	if plan.File != "" {
		p.heading(1, "The description")
		p.add(Block{Verbatim: &Verbatim{Caption: "The house with this plan; saved as a file it gives the same numbers", Text: plan.File}})
	}
	return p.finish()
}

// Words names the steps of a plan with their ids; "" for none.
func (plan *Plan) Words() string {
	if len(plan.Steps) == 0 {
		return ""
	}
	var names, ids []string
	for _, s := range plan.Steps {
		names, ids = append(names, lower(s.Title)), append(ids, s.ID)
	}
	return fmt.Sprintf("%s (%s).", join(names, "and"), strings.Join(ids, ", "))
}

// planInShort says what the sheet is of.
func planInShort(plan Plan) string {
	if len(plan.Steps) == 0 {
		return "The assembly as described, without a swap."
	}
	return fmt.Sprintf("The plan: %s It was applied to the description and the whole assembly was computed again.", plan.Words())
}

// materials writes what is bought for each layer and within which limits the
// numbers hold.
func (p *page) materials(r *analysis.Result) {
	var rows [][]Text
	for _, part := range partsOf(r) {
		if part.Cavity {
			continue
		}
		e := layerAcross(r, part.Layer, "permeance-dry")
		limit := p.limit(part, e)
		var performs []string
		for _, d := range part.Performs {
			performs = append(performs, lower(p.dutyTitle(d)))
		}
		rows = append(rows, []Text{say(capital(part.Name)), say(materialLine(p, part)), say(orWord(coatRuns(part), "none")), limit, say(strings.Join(performs, ", "))})
	}
	p.table(Table{Heads: []string{"Layer", "Material", "Coats", "Dry-cup permeance with its coats", "Has to"}, Rows: rows})
	p.para(quiet, say("The permeance is the range that was computed with: a product within it keeps the numbers of this sheet. A value in doubt sets no limit."))
}

// materialLine says material, thickness and framing of a layer.
func materialLine(p *page, part *assembly.Part) string {
	text := madeOf(part)
	if part.Depth > 0 {
		text = p.both(part.Depth, quantity.Length) + " " + text
	}
	if part.Framed {
		text += ", " + p.both(part.Spacing, quantity.Length) + " on center"
	}
	if part.SealedSet && part.Sealed {
		text += ", joints sealed"
	}
	return text
}

// limit words the permeance that a layer has to keep.
func (p *page) limit(part *assembly.Part, e analysis.Estimate) Text {
	switch {
	case part.State == "existing":
		return say("stands as it is")
	case part.Framed:
		return say("no limit")
	case !e.Known:
		return say("not known")
	case slices.ContainsFunc(e.Inputs, func(in analysis.Input) bool { return in.Value != nil && in.Value.Doubt == "high" }):
		return marked("no limit: the value is in doubt", e.Evidence)
	case e.Range.IsExact():
		return marked("about "+p.value(e.Range, quantity.Permeance), e.Evidence, p.inputSources(e.Inputs)...)
	}
	_, unit := quantity.Display(e.Range.Low, quantity.Permeance, p.Units)
	low, high := quantity.Format(e.Range.Low, quantity.Permeance, p.Units), quantity.Format(e.Range.High, quantity.Permeance, p.Units)
	return marked(strings.TrimSuffix(low, " "+unit)+" to "+high, e.Evidence, p.inputSources(e.Inputs)...)
}

// work writes how the plan is specified, built, cured, inspected and looked
// after.
func (p *page) work(plan Plan) {
	if len(plan.Steps) == 0 {
		return
	}
	p.heading(1, "How the work goes")
	for _, s := range plan.Steps {
		p.heading(2, s.Title)
		p.para(plain, say("Why: "+lower(stop(s.Why))))
		if s.Recipe != nil {
			p.instructions(s.Recipe)
			continue
		}
		p.materialWork(s.Material)
	}
}

// materialWork writes what the base says about handling a single material.
func (p *page) materialWork(m *kb.Material) {
	var rows [][]Text
	for _, x := range [][2]string{{"What it is", m.Summary}, {"How it dries", m.Drying}, {"Care", m.Care}} {
		if x[1] != "" {
			rows = append(rows, []Text{say(x[0]), say(x[1])})
		}
	}
	p.table(Table{Heads: []string{"Step", "How"}, Rows: rows})
}

// agree says who must agree before the work, and which duties depend on
// something.
func (p *page) agree(plan Plan) {
	var needs []kb.Need
	var asks []string
	for _, s := range plan.Steps {
		needs, asks = append(needs, s.Needs...), append(asks, s.Asks...)
	}
	if len(needs)+len(asks) > 0 {
		p.heading(1, "Who must agree and what must be known first")
		p.needs(needs)
		p.asks(unique(asks))
	}
	p.heading(1, "Duties")
	p.duties(analysis.Covers(p.Base, plan.After.Assembly, plan.After.Variants[0].Of))
}

// code writes what still stands out on the changed assembly, code first.
func (p *page) code(plan Plan) {
	p.heading(1, "What the code and the numbers still say")
	if len(plan.Findings) == 0 {
		p.para(plain, say("Nothing stands out on the assembly of this sheet."))
		return
	}
	list := slices.Clone(plan.Findings)
	slices.SortStableFunc(list, func(a, b rule.Finding) int { return codeFirst(a) - codeFirst(b) })
	p.findings(list)
}

func codeFirst(f rule.Finding) int {
	if f.Kind == "code" {
		return 0
	}
	return 1
}

// beforeAfter writes the compared facts of both ends of a plan.
func (p *page) beforeAfter(plan Plan) {
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
	p.heading(1, "Before and after")
	p.table(Table{Heads: []string{"Fact", "Before", "After"}, Rows: rows})
}

// SpecData is the spec sheet in SI.
type SpecData struct {
	Steps  []ProposalData `json:"steps"`
	Before AssemblyData   `json:"before"`
	After  AssemblyData   `json:"after"`
	Others []string       `json:"others"`
	House  string         `json:"house"`
	Cost   *CostData      `json:"cost,omitempty"`
}

// SpecData gives the results behind a spec sheet. It is an error when a
// description cannot be written.
func (m Maker) SpecData(plan Plan) (SpecData, error) {
	d := SpecData{
		Before: m.assemblyData(plan.Before, nil, nil), After: m.assemblyData(plan.After, plan.Findings, plan.Cautions),
		Others: plan.Others, House: plan.File, Cost: costData(plan.Cost),
	}
	for _, s := range plan.Steps {
		step, err := m.proposalData(s)
		if err != nil {
			return d, err
		}
		d.Steps = append(d.Steps, step)
	}
	return d, nil
}
