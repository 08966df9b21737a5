package honesty_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// dump writes answers line by line with every digit of every number, so that
// two of them can be compared byte by byte.
type dump struct{ strings.Builder }

func (d *dump) line(format string, args ...any) {
	fmt.Fprintf(d, format, args...)
	d.WriteByte('\n')
}

// result writes what was computed.
func (d *dump) result(r *analysis.Result) {
	for i, v := range r.Variants {
		d.line("variant %d", i)
		d.facts("", v.Facts)
		for _, l := range v.Layers {
			d.facts(l.Part.Name+": ", l.Facts)
		}
		d.line("  soaked %v planes %v months %v", v.Detail.Layers, v.Detail.Planes, v.Detail.Months)
	}
	for _, a := range r.Assumptions {
		d.line("assumed %s: %s", a.ID, a.Text)
	}
	d.line("models %q warnings %q", r.Models, r.Warnings)
}

func (d *dump) facts(prefix string, facts analysis.Facts) {
	ids := make([]string, 0, len(facts))
	for id := range facts {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		e := facts[id]
		d.line("  %s%s known %v range %v words %q flag %v mixed %v mark %s minor %d missing %q warnings %q",
			prefix, id, e.Known, e.Range, e.Words, e.Flag, e.Mixed, e.Evidence, e.Minor, e.Missing, e.Warnings)
		for _, in := range e.Inputs {
			d.line("    from %s", inputWords(in))
		}
		for _, dr := range e.Drivers {
			d.line("    moved by %s from %v to %v", inputWords(dr.Input), dr.Low, dr.High)
		}
	}
}

// inputWords names an input by all that tells it apart.
func inputWords(in analysis.Input) string {
	text := fmt.Sprintf("%s of %s (%s)", in.Property, in.Layer, in.Material)
	if v := in.Value; v != nil {
		text += fmt.Sprintf(" %s %s %s %s %v", v.Source, v.Locator, v.Value.Value, v.Range.Value, v.SI)
	}
	return text
}

// findings writes what rules say.
func (d *dump) findings(title string, list []rule.Finding) {
	for _, f := range list {
		d.line("%s %s %s %s %s layer %q say %q decider %q cautions %q mark %s", title, f.Rule, f.Kind, f.Level, f.Verdict, f.Layer, f.Say, f.Decider, f.Cautions, f.Mark)
		d.reasons(f.Because)
		for _, row := range f.Rows {
			d.line("  row %q %s", row.Row, row.Verdict)
			d.reasons(row.Because)
		}
	}
}

func (d *dump) reasons(list []rule.Reason) {
	for _, r := range list {
		d.line("    %s %s %q %q %s", r.Verdict, r.Fact, r.Layer, r.Text, r.Mark)
	}
}

func (d *dump) cautions(list []rule.Caution) {
	for _, c := range list {
		d.line("  caution %s for %q certain %v", c.Caution.ID, c.For, c.Certain)
	}
}

// advice writes an answer with all its proposals.
func (d *dump) advice(t testing.TB, a *swap.Advice) {
	d.line("assembly %s: leave %q", a.Assembly.Name, a.Leave)
	d.result(a.Before)
	d.findings("finding", a.Findings)
	d.cautions(a.Cautions)
	for i := range a.Proposals {
		d.proposal(t, &a.Proposals[i])
	}
	for _, r := range a.Rejections {
		d.line("rejected %s %q at %s: %q", r.ID, r.Candidate, r.Layer, r.Because)
	}
}

func (d *dump) proposal(t testing.TB, p *swap.Proposal) {
	d.line("proposal %s %q at %s: %s, why %q", p.ID, p.Title, p.Layer, p.Standing, p.Why)
	for _, c := range p.Changes {
		d.line("  %s: %q to %q", c.Layer, c.From, c.To)
	}
	for _, c := range p.Compare {
		d.line("  %s %v to %v: %s %s", c.Fact.ID, c.Before, c.After, c.Change, c.Mark)
	}
	for _, x := range p.Duties {
		d.line("  duty %s %q %s to %q %s asks %q", x.Duty, x.Before, x.Was, x.After, x.Verdict, x.Asks)
	}
	for _, n := range p.Needs {
		d.line("  need %s: %s", n.Who, n.What)
	}
	d.line("  asks %q", p.Asks)
	d.cautions(p.Cautions)
	d.findings("  resolves", p.Resolved)
	d.findings("  brings", p.Introduced)
	d.findings("  leaves", p.Remaining)
	text, err := assembly.Write(p.House)
	if err != nil {
		t.Fatal(err)
	}
	d.Write(text)
	d.result(p.After)
}

// whole dumps the advice for assemblies.
func whole(t testing.TB, list []*swap.Advice) string {
	t.Helper()
	var d dump
	for _, a := range list {
		d.advice(t, a)
	}
	return d.String()
}

// judged dumps the analysis and the findings of every assembly of a house.
func judged(t testing.TB, base *kb.Base, s source) string {
	t.Helper()
	var d dump
	for _, a := range resolve(t, base, s).Assemblies {
		r := analyze(t, base, a)
		d.line("assembly %s", a.Name)
		d.result(r)
		d.findings("finding", rule.Evaluate(tester(base), r))
	}
	return d.String()
}

// differ fails with the first line that differs.
func differ(t testing.TB, what, got, want string) {
	t.Helper()
	if got == want {
		return
	}
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			t.Errorf("%s, line %d:\n\tgot  %s\n\twant %s", what, i+1, a[i], b[i])
			return
		}
	}
	t.Errorf("%s: %d lines, want %d", what, len(a), len(b))
}
