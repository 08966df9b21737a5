// Package advisor_test holds the whole advice to what builders expect of it:
// labelled houses, and the starters of the base.
package advisor_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// houseFolder holds the shipped houses, each with its labels beside it.
const houseFolder = "../testdata/houses"

// labels is what a builder expects to hear about one house.
type labels struct {
	About      string        `yaml:"about,required"`
	Assemblies []labelled    `yaml:"assemblies"`
	Finishes   []finishLabel `yaml:"finishes"`
}

// labelled holds the labels of one assembly.
type labelled struct {
	Name     string          `yaml:"name,required"`
	Sound    openAnswer      `yaml:"sound,required"`
	Why      string          `yaml:"why,required"`
	Expect   []expectedLabel `yaml:"expect"`
	Forbid   []findingLabel  `yaml:"forbid"`
	Open     []openLabel     `yaml:"open"`     // may be found or not
	Cautions []string        `yaml:"cautions"` // said before anything is proposed
	Advise   adviseLabel     `yaml:"advise,required"`
}

// openAnswer is yes, no or open.
type openAnswer string

func (openAnswer) Allowed() []string { return []string{"yes", "no", "open"} }

type expectedLabel struct {
	Finding string       `yaml:"finding,required"`
	Verdict []kb.Verdict `yaml:"verdict,required"` // one of these
	Why     string       `yaml:"why,required"`
	Basis   kb.Basis     `yaml:"basis,required"`
}

// findingLabel forbids the verdict no of a finding.
type findingLabel struct {
	Finding string   `yaml:"finding,required"`
	Why     string   `yaml:"why,required"`
	Basis   kb.Basis `yaml:"basis,required"`
}

type openLabel struct {
	Finding string `yaml:"finding,required"`
	Why     string `yaml:"why,required"`
}

type adviseLabel struct {
	Leave   openAnswer    `yaml:"leave,required"`
	Propose []swapLabel   `yaml:"propose"`
	Reject  []rejectLabel `yaml:"reject"`
}

// swapLabel is a swap that must be proposed; its id is that of a recipe or,
// for a single material, of the material.
type swapLabel struct {
	Recipe   string   `yaml:"recipe,required"`
	Layer    string   `yaml:"layer,required"`
	Resolves []string `yaml:"resolves"`
	Needs    []string `yaml:"needs"`
	Cautions []string `yaml:"cautions"`
	Why      string   `yaml:"why,required"`
	Basis    kb.Basis `yaml:"basis,required"`
}

// rejectLabel is a swap that must be turned down, with a word of the reason.
type rejectLabel struct {
	Recipe string   `yaml:"recipe,required"`
	Layer  string   `yaml:"layer,required"`
	Says   string   `yaml:"says"`
	Why    string   `yaml:"why,required"`
	Basis  kb.Basis `yaml:"basis,required"`
}

// finishLabel is a swap that must be proposed for a line of the finish
// schedule.
type finishLabel struct {
	Room    string   `yaml:"room,required"`
	Part    string   `yaml:"part,required"`
	Propose string   `yaml:"propose,required"`
	Why     string   `yaml:"why,required"`
	Basis   kb.Basis `yaml:"basis,required"`
}

// score collects what went wrong.
type score struct {
	checked             int
	misses, falseAlarms []string
}

func (s *score) miss(format string, args ...any) {
	s.misses = append(s.misses, fmt.Sprintf(format, args...))
}

func (s *score) alarm(format string, args ...any) {
	s.falseAlarms = append(s.falseAlarms, fmt.Sprintf(format, args...))
}

// TestLabels holds every shipped house to its labels and prints misses and
// false alarms. A false alarm is a finding that is forbidden, or a moisture or
// mold finding with verdict no that nobody expects or that a sound assembly
// gets.
func TestLabels(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	for _, file := range houseFiles(t) {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		t.Run(name, func(t *testing.T) {
			want := readLabels(t, strings.TrimSuffix(file, ".yaml")+".expect.yaml")
			house := resolve(t, tester.Base, file, read(t, file))
			var s score
			for i := range want.Assemblies {
				s.assembly(t, tester, house, &want.Assemblies[i])
			}
			s.finishes(t, tester, house, want.Finishes)
			for _, m := range s.misses {
				t.Errorf("miss: %s", m)
			}
			for _, m := range s.falseAlarms {
				t.Errorf("false alarm: %s", m)
			}
			t.Logf("%d labels checked, %d misses, %d false alarms", s.checked, len(s.misses), len(s.falseAlarms))
		})
	}
}

// TestSoundHourByHour: no rule that reads hourly runs finds anything in an assembly
// that is labelled sound, for the first choice of each doubt.
func TestSoundHourByHour(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	sound := 0
	for _, file := range houseFiles(t) {
		want := readLabels(t, strings.TrimSuffix(file, ".yaml")+".expect.yaml")
		house := resolve(t, tester.Base, file, read(t, file))
		for i := range want.Assemblies {
			if want.Assemblies[i].Sound != "yes" {
				continue
			}
			sound++
			a := *house.Assemblies[slices.IndexFunc(house.Assemblies, func(a *assembly.Assembly) bool { return a.Name == want.Assemblies[i].Name })]
			a.Variants = a.Variants[:1]
			r, err := analysis.Run(t.Context(), tester.Base, &a)
			if err != nil {
				t.Fatal(err)
			}
			if err := analysis.AddHourly(t.Context(), tester.Base, analysis.Hourly{}, r); err != nil {
				t.Fatal(err)
			}
			for _, f := range rule.Evaluate(tester, r) {
				if f.Verdict == kb.No && (f.Kind == "moisture" || f.Kind == "mold") {
					t.Errorf("%s, %s is sound: %s: %s", file, a.Name, f.Rule, f.Say)
				}
			}
		}
	}
	if sound == 0 {
		t.Error("no assembly is labelled sound")
	}
}

// assembly checks the labels of one assembly.
func (s *score) assembly(t *testing.T, tester rule.Tester, house *assembly.Resolved, want *labelled) {
	t.Helper()
	at := slices.IndexFunc(house.Assemblies, func(a *assembly.Assembly) bool { return a.Name == want.Name })
	if at < 0 {
		t.Fatalf("no assembly %q", want.Name)
	}
	a := house.Assemblies[at]
	advice := propose(t, tester, a, "")
	s.findings(want, advice.Findings)
	for _, id := range want.Cautions {
		s.checked++
		if !slices.ContainsFunc(advice.Cautions, func(c rule.Caution) bool { return c.Caution.ID == id }) {
			s.miss("%s: caution %s is not said", want.Name, id)
		}
	}
	s.leave(want, advice)
	byLayer := map[string]*swap.Advice{}
	on := func(layer string) *swap.Advice {
		if advice.Leave == "" {
			return advice
		}
		if byLayer[layer] == nil {
			byLayer[layer] = propose(t, tester, a, layer)
		}
		return byLayer[layer]
	}
	for i := range want.Advise.Propose {
		s.proposal(want.Name, &want.Advise.Propose[i], on(want.Advise.Propose[i].Layer))
	}
	for i := range want.Advise.Reject {
		s.rejection(want.Name, &want.Advise.Reject[i], on(want.Advise.Reject[i].Layer))
	}
}

// findings compares findings with the labels.
func (s *score) findings(want *labelled, found []rule.Finding) {
	verdictOf := make(map[string]kb.Verdict)
	for _, f := range found {
		verdictOf[f.Rule] = f.Verdict
	}
	expected := make(map[string]bool)
	for _, e := range want.Expect {
		s.checked++
		expected[e.Finding] = true
		if !slices.Contains(e.Verdict, verdictOf[e.Finding]) {
			s.miss("%s: %s is %q, expected %v: %s", want.Name, e.Finding, verdictOf[e.Finding], e.Verdict, e.Why)
		}
	}
	for _, f := range want.Forbid {
		s.checked++
		if verdictOf[f.Finding] == kb.No {
			s.alarm("%s: %s is found: %s", want.Name, f.Finding, f.Why)
		}
	}
	for _, o := range want.Open {
		expected[o.Finding] = true
	}
	for _, f := range found {
		if f.Verdict != kb.No || f.Kind != "moisture" && f.Kind != "mold" {
			continue
		}
		s.checked++
		switch {
		case want.Sound == "yes":
			s.alarm("%s is sound: %s: %s", want.Name, f.Rule, f.Say)
		case !expected[f.Rule]:
			s.alarm("%s: nobody expects %s: %s", want.Name, f.Rule, f.Say)
		}
	}
}

// leave checks whether the answer is to leave it alone.
func (s *score) leave(want *labelled, advice *swap.Advice) {
	if want.Advise.Leave == "open" {
		return
	}
	s.checked++
	left := advice.Leave != ""
	switch {
	case left && want.Advise.Leave == "no":
		s.miss("%s: the answer is to leave it alone: %s", want.Name, advice.Leave)
	case !left && want.Advise.Leave == "yes":
		s.alarm("%s: the answer is not to leave it alone", want.Name)
	}
}

// proposal looks for a swap that must be proposed.
func (s *score) proposal(name string, want *swapLabel, advice *swap.Advice) {
	s.checked++
	at := slices.IndexFunc(advice.Proposals, func(p swap.Proposal) bool { return p.ID == want.Recipe+"@"+want.Layer })
	if at < 0 {
		s.miss("%s: %s at %s is not proposed: %s (%s)", name, want.Recipe, want.Layer, want.Why, turnedDown(advice, want.Recipe, want.Layer))
		return
	}
	p := &advice.Proposals[at]
	if p.After == nil || p.House == nil || len(p.Compare) == 0 {
		s.miss("%s: %s at %s was not recomputed", name, want.Recipe, want.Layer)
	}
	for _, id := range want.Resolves {
		if !slices.ContainsFunc(p.Resolved, func(f rule.Finding) bool { return f.Rule == id }) {
			s.miss("%s: %s at %s does not resolve %s", name, want.Recipe, want.Layer, id)
		}
	}
	for _, who := range want.Needs {
		if !slices.ContainsFunc(p.Needs, func(n kb.Need) bool { return n.Who == who }) {
			s.miss("%s: %s at %s does not say that the %s must agree", name, want.Recipe, want.Layer, who)
		}
	}
	for _, id := range want.Cautions {
		if !slices.ContainsFunc(p.Cautions, func(c rule.Caution) bool { return c.Caution.ID == id }) {
			s.miss("%s: %s at %s comes without caution %s", name, want.Recipe, want.Layer, id)
		}
	}
}

// rejection looks for a swap that must be turned down.
func (s *score) rejection(name string, want *rejectLabel, advice *swap.Advice) {
	s.checked++
	because := turnedDown(advice, want.Recipe, want.Layer)
	switch {
	case because == "":
		s.miss("%s: %s at %s is not turned down: %s", name, want.Recipe, want.Layer, want.Why)
	case !strings.Contains(strings.ToLower(because), want.Says):
		s.miss("%s: %s at %s is turned down without the word %q: %s", name, want.Recipe, want.Layer, want.Says, because)
	}
}

// turnedDown gives the reasons of a rejection, or nothing.
func turnedDown(advice *swap.Advice, id, layer string) string {
	for _, r := range advice.Rejections {
		if r.ID == id && r.Layer == layer {
			return strings.Join(r.Because, "; ")
		}
	}
	return ""
}

// finishes checks the swaps of the finish schedule.
func (s *score) finishes(t *testing.T, tester rule.Tester, house *assembly.Resolved, want []finishLabel) {
	t.Helper()
	advice := swap.Finishes(tester, house)
	for _, w := range want {
		s.checked++
		found := slices.ContainsFunc(advice, func(a swap.FinishAdvice) bool {
			return a.Finish.Room.Value == w.Room && a.Finish.Part.Value == w.Part &&
				slices.ContainsFunc(a.Proposals, func(p swap.FinishProposal) bool { return p.Recipe.ID == w.Propose })
		})
		if !found {
			s.miss("%s, %s: %s is not proposed: %s", w.Room, w.Part, w.Propose, w.Why)
		}
	}
}

// TestLabelsNameTheirBasis: every label names a source of the base, every
// house is marked invented, and every id that a label uses exists.
func TestLabelsNameTheirBasis(t *testing.T) {
	base := loadBase(t)
	for _, file := range houseFiles(t) {
		house := resolve(t, base, file, read(t, file))
		if !strings.Contains(strings.ToLower(house.House.Note), "invented") {
			t.Errorf("%s: the note does not say that the house is invented", file)
		}
		want := readLabels(t, strings.TrimSuffix(file, ".yaml")+".expect.yaml")
		if len(want.Assemblies) != len(house.Assemblies) {
			t.Errorf("%s: %d assemblies, %d with labels", file, len(house.Assemblies), len(want.Assemblies))
		}
		for _, b := range basesOf(want) {
			if !slices.ContainsFunc(base.Sources, func(s *kb.Source) bool { return s.ID == b.Source }) {
				t.Errorf("%s: source %q is not in the base", file, b.Source)
			}
			if b.Evidence == "" || b.Locator == "" {
				t.Errorf("%s: a basis without evidence or locator: %+v", file, b)
			}
		}
		for _, id := range findingsOf(want) {
			if !isFinding(base, id) {
				t.Errorf("%s: no rule or table %q", file, id)
			}
		}
	}
}

// basesOf lists the basis of every label.
func basesOf(l *labels) []kb.Basis {
	var list []kb.Basis
	for _, a := range l.Assemblies {
		for _, x := range a.Expect {
			list = append(list, x.Basis)
		}
		for _, x := range a.Forbid {
			list = append(list, x.Basis)
		}
		for _, x := range a.Advise.Propose {
			list = append(list, x.Basis)
		}
		for _, x := range a.Advise.Reject {
			list = append(list, x.Basis)
		}
	}
	for _, x := range l.Finishes {
		list = append(list, x.Basis)
	}
	return list
}

// findingsOf lists the rules and tables that labels name.
func findingsOf(l *labels) []string {
	var list []string
	for _, a := range l.Assemblies {
		for _, x := range a.Expect {
			list = append(list, x.Finding)
		}
		for _, x := range a.Forbid {
			list = append(list, x.Finding)
		}
		for _, x := range a.Open {
			list = append(list, x.Finding)
		}
		for _, x := range a.Advise.Propose {
			list = append(list, x.Resolves...)
		}
	}
	return list
}

func isFinding(base *kb.Base, id string) bool {
	return slices.ContainsFunc(base.Rules, func(r *kb.Rule) bool { return r.ID == id }) ||
		slices.ContainsFunc(base.Tables, func(r *kb.Table) bool { return r.ID == id })
}
