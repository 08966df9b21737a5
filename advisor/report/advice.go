package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// Advice makes the page of advice on assemblies and finishes of one house. The
// first proposals of each assembly are written out in full, as many as full
// says, the others in short; 0 writes all in full.
func (m Maker) Advice(list []*swap.Advice, finishes []swap.FinishAdvice, full int) *Document {
	p := m.housePage(len(list), func(i int) *assembly.Assembly { return list[i].Assembly })
	for _, a := range list {
		p.begin(len(list), a.Assembly)
		p.advice(a, full)
	}
	p.deeper = 0
	p.finishes(finishes)
	return p.finish()
}

// advice writes one assembly: what stands out, what could be done, what was
// turned down, and the numbers behind it.
func (p *page) advice(a *swap.Advice, full int) {
	p.para(lead, say(p.adviceInShort(a)))
	p.warnings(a.Before)
	if len(a.Findings) > 0 {
		p.heading(1, "What stands out")
		p.findings(a.Findings)
	}
	p.plans(a)
	if len(a.Proposals) > 0 {
		p.heading(1, "Swaps that hold up")
		p.summary(a)
		p.proposals(a.Proposals, full)
	}
	p.rejections(a.Rejections)
	p.heading(1, "The "+kindName(a.Assembly.Kind)+" as it is")
	p.cutaway(a.Before)
	p.layers(a.Before)
	p.chokes(a.Before)
	p.drying(a.Before)
	p.water(a.Before)
	p.closing(a.Before, a.Cautions)
}

// adviceInShort is the answer in a few sentences.
func (p *page) adviceInShort(a *swap.Advice) string {
	if a.Leave != "" && len(a.Proposals) == 0 {
		return a.Leave
	}
	words := []string{p.inShort(Analysis{Result: a.Before, Findings: a.Findings})}
	switch n := len(a.Proposals); n {
	case 0:
		words = append(words, "No swap held up when it was recomputed; the reasons stand below.")
	case 1:
		words = append(words, fmt.Sprintf("One swap holds up when the %s is recomputed with it: %s.", kindName(a.Assembly.Kind), lower(a.Proposals[0].Title)))
	default:
		words = append(words, fmt.Sprintf("%s swaps hold up when the %s is recomputed with them; the first is: %s.",
			capital(number(n)), kindName(a.Assembly.Kind), lower(a.Proposals[0].Title)))
	}
	if n := len(a.Rejections); n > 0 {
		words = append(words, fmt.Sprintf("%s turned down.", capital(count(n, "candidate")+plural(n, " was", " were"))))
	}
	return strings.Join(words, " ")
}

// summary writes one line for each proposal.
func (p *page) summary(a *swap.Advice) {
	t := Table{Heads: []string{"No.", "Swap", "Layer", "Standing", "Clears", "Makes worse"}, Right: []int{0}}
	for i := range a.Proposals {
		x := &a.Proposals[i]
		t.Rows = append(t.Rows, []Text{
			say(fmt.Sprint(i + 1)), say(x.Title), say(x.Layer), say(string(x.Standing)),
			say(orNothing(titles(x.Resolved))), say(orNothing(append(p.factsThat(x, "worse"), titles(x.Introduced)...))),
		})
	}
	p.table(t)
}

func orNothing(words []string) string {
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, "; ")
}

func titles(list []rule.Finding) []string {
	var words []string
	for _, f := range list {
		words = append(words, lower(f.Title))
	}
	return unique(words)
}

// factsThat names the compared facts that changed in a way.
func (p *page) factsThat(x *swap.Proposal, change string) []string {
	var words []string
	for _, c := range x.Compare {
		if c.Change == change {
			words = append(words, c.Fact.Title)
		}
	}
	return words
}

// proposals writes the first swaps in full and the others in short.
func (p *page) proposals(list []swap.Proposal, full int) {
	for i := range list {
		p.spot = spotOfSwap(i + 1)
		if full == 0 || i < full {
			p.proposal(i+1, &list[i])
			continue
		}
		if i == full {
			p.heading(2, "The others in short")
			p.para(quiet, say("Each can be written out in full: relath advise FILE --all, or relath spec FILE --plan with its id."))
		}
		p.short(i+1, &list[i])
	}
	p.spot = ""
}

// short writes one swap in a paragraph, with the names of its cautions.
func (p *page) short(n int, x *swap.Proposal) {
	text := fmt.Sprintf("%d. %s, at the %s, %s. Its id is %s. Clears: %s. Makes worse: %s.", n, x.Title, x.Layer, x.Standing, x.ID,
		orNothing(titles(x.Resolved)), orNothing(append(p.factsThat(x, "worse"), titles(x.Introduced)...)))
	for _, need := range x.Needs {
		text += " " + p.needOnce(need)
	}
	p.para(plain, say(text))
	p.verified(x.Hourly)
	p.cautionsOf(x.Cautions)
}

// proposal writes one swap in full.
func (p *page) proposal(n int, x *swap.Proposal) {
	p.heading(2, fmt.Sprintf("%d. %s", n, x.Title))
	p.proposalBody(x)
}

// proposalBody is proposal without its heading.
func (p *page) proposalBody(x *swap.Proposal) {
	p.para(plain, say(fmt.Sprintf("At the %s, %s. Its id is %s.", x.Layer, x.Standing, x.ID)))
	var notes []int
	if x.Recipe != nil {
		notes = p.bases(x.Recipe.Basis)
	}
	p.para(plain, say("Why: "+lower(stop(x.Why)), notes...))
	p.list(changes(x.Changes)...)
	p.compared(x.Compare)
	p.verified(x.Hourly)
	p.gains(x)
	p.losses(x)
	p.dutyChanges(x)
	p.confirm(x.Needs, x.Duties, x.Cautions)
	p.asks(x.Asks)
	p.cautionsOf(x.Cautions)
}

// changes says what is done, layer by layer.
func changes(list []swap.Change) []Text {
	var items []Text
	for _, c := range list {
		text := ""
		switch {
		case c.Layer == swap.BesideLayers:
			text = "Beside it: " + lower(stop(c.To))
		case c.Stays:
			text = fmt.Sprintf("%s: stays; %s.", capital(c.Layer), c.To)
		case c.From == "":
			text = fmt.Sprintf("%s: %s, added.", capital(c.Layer), inRunning(c.To))
		case c.To == "":
			text = fmt.Sprintf("%s: %s is taken out.", capital(c.Layer), inRunning(c.From))
		default:
			text = fmt.Sprintf("%s: %s instead of %s.", capital(c.Layer), inRunning(c.To), inRunning(c.From))
		}
		items = append(items, say(text))
	}
	return items
}

// inRunning writes a layer in running text: its name small, behind the size too.
func inRunning(layer string) string {
	if layer == "" || layer[0] < '0' || layer[0] > '9' {
		return lower(layer)
	}
	parts := strings.SplitN(layer, " ", 3) // number, unit, name
	if len(parts) == 3 {
		parts[2] = lower(parts[2])
	}
	return strings.Join(parts, " ")
}

// compared writes what changed, and names what did not.
func (p *page) compared(list []swap.Compared) {
	var rows [][]Text
	var same []string
	for _, c := range list {
		if c.Change == "same" {
			same = append(same, c.Fact.Title)
			continue
		}
		rows = append(rows, []Text{
			say(capital(c.Fact.Title), p.model(c.Fact.Model)),
			say(p.value(c.Before, c.Fact.Dimension)),
			marked(p.value(c.After, c.Fact.Dimension), c.Mark),
			say(c.Change),
		})
	}
	p.table(Table{Caption: "Before and after, both computed", Heads: []string{"Fact", "Before", "After", "Change"}, Rows: rows})
	if len(same) > 0 {
		p.para(quiet, say("The same before and after: "+join(same, "and")+"."))
	}
}

// gains says which findings a swap clears and which stay.
func (p *page) gains(x *swap.Proposal) {
	if words := titles(x.Resolved); len(words) > 0 {
		p.para(plain, say("It clears: "+strings.Join(words, "; ")+"."))
	}
	if words := titles(x.Remaining); len(words) > 0 {
		p.para(plain, say("It leaves: "+strings.Join(words, "; ")+"."))
	}
}

// losses says what gets worse, with the findings that a swap brings in full.
func (p *page) losses(x *swap.Proposal) {
	words := p.factsThat(x, "worse")
	text := "Nothing that is compared here gets worse."
	if len(words) > 0 {
		text = "What gets worse: " + join(words, "and") + "."
	}
	if x.Recipe != nil && x.Recipe.Worse != "" {
		text += " " + p.worseOf(x.Recipe.Worse)
	}
	p.para(plain, say(text))
	for _, f := range x.Introduced {
		p.brings(f)
	}
}

// dutyChanges writes the duties that change hands or stay open.
func (p *page) dutyChanges(x *swap.Proposal) {
	var rows [][]Text
	for _, d := range x.Duties {
		kept := slices.Equal(d.Before, d.After) && d.Was == d.Verdict
		if kept && (d.Verdict == kb.Yes || !slices.Contains(d.After, x.Layer)) {
			continue
		}
		rows = append(rows, []Text{
			say(p.dutyTitle(d.Duty)), say(by(d.Before)), say(by(d.After)),
			say(string(d.Verdict)), say(asks(d.Verdict, d.Asks)),
		})
	}
	p.table(Table{
		Caption: "Duties that change hands or depend on something",
		Heads:   []string{"Duty", "Before", "After", "Covered", "Depends on"}, Rows: rows,
	})
}

func by(layers []string) string {
	if len(layers) == 0 {
		return "no layer"
	}
	return join(layers, "and")
}

// needs says who must agree before the work.
func (p *page) needs(list []kb.Need) {
	var items []Text
	for _, n := range list {
		items = append(items, say(needWords(n)))
	}
	p.list(items...)
}

func needWords(n kb.Need) string {
	return fmt.Sprintf("Before the work, ask the %s: %s", strings.ReplaceAll(n.Who, "-", " "), stop(n.What))
}

// asks says what must be found out before a swap surely fits.
func (p *page) asks(list []string) {
	var items []Text
	for _, a := range list {
		items = append(items, say("To find out first: "+stop(a)))
	}
	p.list(items...)
}

// sentences makes a sentence of each reason.
func sentences(list []string) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = capital(stop(s))
	}
	return strings.Join(words, " ")
}

// rejections writes what was turned down: the candidates of a layer that share
// a reason stand in one row.
func (p *page) rejections(list []swap.Rejection) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "Turned down")
	type group struct{ layer, why string }
	names := make(map[group][]string)
	var order []group
	for _, r := range list {
		g := group{r.Layer, sentences(r.Because)}
		if names[g] == nil {
			order = append(order, g)
		}
		name := r.Candidate
		if m := p.Base.Material(r.ID); m != nil {
			name = m.Name
		}
		names[g] = append(names[g], name)
	}
	t := Table{Heads: []string{"Layer", "Candidates", "Why not"}}
	for _, g := range order {
		t.Rows = append(t.Rows, []Text{say(g.layer), say(strings.Join(unique(names[g]), ", ")), say(g.why)})
	}
	p.table(t)
}
