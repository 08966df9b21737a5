package advisor_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

var update = flag.Bool("update", false, "write the golden files anew")

// inFull is the number of swaps that golden pages write out in full.
const inFull = 3

func base(t testing.TB) *kb.Base {
	t.Helper()
	b, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// houses gives the shipped houses by name.
func houses(t testing.TB, b *kb.Base) map[string]*assembly.Resolved {
	t.Helper()
	files, err := filepath.Glob("../testdata/houses/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	out := make(map[string]*assembly.Resolved)
	for _, file := range files {
		if strings.HasSuffix(file, ".expect.yaml") {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		h, err := advisor.Load(b, filepath.Base(file), data)
		if err != nil {
			t.Fatal(err)
		}
		out[strings.TrimSuffix(filepath.Base(file), ".yaml")] = h
	}
	return out
}

// golden compares a text with a golden file.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("../testdata/golden", name)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s differs (go test ./advisor -update writes it anew):\n%s", name, diff)
	}
}

func text(t *testing.T, d *report.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.Text(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestGoldenPages(t *testing.T) {
	b := base(t)
	m, tester := report.Maker{Base: b}, rule.Tester{Base: b}
	for name, house := range houses(t, b) {
		t.Run(name, func(t *testing.T) {
			ctx := context.Background()
			results, err := advisor.Analyze(ctx, tester, house.Assemblies)
			if err != nil {
				t.Fatal(err)
			}
			golden(t, name+".analyze.txt", text(t, m.Analysis(results)))
			advice, err := advisor.Advise(ctx, tester, house.Assemblies, swap.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if err := advisor.PlanAll(ctx, tester, advice, swap.PlanOptions{}); err != nil {
				t.Fatal(err)
			}
			golden(t, name+".advise.txt", text(t, m.Advice(advice, nil, inFull)))
		})
	}
}

// No page writes a small number with an exponent.
func TestGoldenPagesHaveNoExponents(t *testing.T) {
	files, err := filepath.Glob("../testdata/golden/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no golden files: %v", err)
	}
	exponent := regexp.MustCompile(`[0-9]e-0`)
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(data), "\n") {
			if exponent.MatchString(line) {
				t.Errorf("%s:%d: %s", file, i+1, line)
			}
		}
	}
}

// What JSON carries is in SI and unrounded: the very numbers of the analysis,
// each with its unit.
func TestJSONCarriesTheNumbers(t *testing.T) {
	b := base(t)
	house := houses(t, b)["alder-court"]
	results, err := advisor.Analyze(context.Background(), rule.Tester{Base: b, System: quantity.InchPound}, house.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	m := report.Maker{Base: b, Units: quantity.InchPound}
	var out bytes.Buffer
	answer := report.Answer{Kind: "analysis", Base: b.Version, Data: m.AnalysisData(results), Document: m.Analysis(results)}
	if err := answer.JSON(&out); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Format int
		Kind   string
		Base   string
		Data   []struct {
			Name     string
			Variants []struct {
				Facts map[string]struct {
					Known  bool
					Number *struct {
						Low, Best, High float64
						Unit            string
					}
				}
				Layers []struct{ Name string }
			}
			Findings []struct{ Rule, Verdict string }
		}
		Document struct{ Title string }
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Format != 1 || got.Kind != "analysis" || got.Base != b.Version || got.Document.Title == "" {
		t.Errorf("format %d, kind %q, base %q, title %q", got.Format, got.Kind, got.Base, got.Document.Title)
	}
	for i, r := range results {
		for k, v := range r.Result.Variants {
			if len(got.Data[i].Variants[k].Layers) != len(v.Layers) {
				t.Errorf("%s: %d layers, want %d", got.Data[i].Name, len(got.Data[i].Variants[k].Layers), len(v.Layers))
			}
			for id, e := range v.Facts {
				f := b.Fact(id)
				if !e.Known || f.Type != "quantity" {
					continue
				}
				n := got.Data[i].Variants[k].Facts[id].Number
				if n == nil || n.Best != e.Range.Best || n.Low != e.Range.Low || n.High != e.Range.High || n.Unit != f.Dimension.Unit() {
					t.Errorf("%s is %+v, want %v %s", id, n, e.Range, f.Dimension.Unit())
				}
			}
		}
		if len(got.Data[i].Findings) != len(r.Findings) {
			t.Errorf("%d findings, want %d", len(got.Data[i].Findings), len(r.Findings))
		}
	}
}

// The same input gives the same bytes.
func TestPagesAreTheSameTwice(t *testing.T) {
	b := base(t)
	m, tester := report.Maker{Base: b}, rule.Tester{Base: b}
	house := houses(t, b)["alder-court"]
	page := func() string {
		advice, err := advisor.Advise(context.Background(), tester, house.Assemblies, swap.Options{})
		if err != nil {
			t.Fatal(err)
		}
		data, err := m.AdviceData(advice)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := (report.Answer{Kind: "advice", Data: data, Document: m.Advice(advice, nil, 0)}).JSON(&out); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	first := page()
	for range 3 {
		if page() != first {
			t.Fatal("two runs differ")
		}
	}
}

// A plan is what its steps make of the description: the file on the sheet,
// analyzed, gives the numbers on the sheet.
func TestPlanRoundTrip(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b}
	house := houses(t, b)["alder-court"]
	plan, err := advisor.Plan(context.Background(), tester, house.Assemblies[0], nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Steps) != 1 {
		t.Fatalf("%d steps", len(plan.Steps))
	}
	text, err := plan.File()
	if err != nil {
		t.Fatal(err)
	}
	changed, err := advisor.Load(b, "plan.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	again, err := advisor.Analyze(context.Background(), tester, changed.Assemblies[:1])
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range plan.After.Variants[0].Facts {
		if got := again[0].Result.Variants[0].Facts[id]; got.Range != want.Range || got.Known != want.Known {
			t.Errorf("%s is %v, the sheet says %v", id, got.Range, want.Range)
		}
	}
}

func TestPlanNames(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b}
	a := houses(t, b)["alder-court"].Assemblies[0]
	if _, err := advisor.Plan(context.Background(), tester, a, []string{"no-such-swap"}); err == nil {
		t.Error("an unknown swap makes a plan")
	}
	plan, err := advisor.Plan(context.Background(), tester, a, []string{advisor.AsDescribed})
	if err != nil || len(plan.Steps) != 0 || plan.After != plan.Before {
		t.Errorf("as described gives %d steps, %v", len(plan.Steps), err)
	}
}

func TestChoose(t *testing.T) {
	b := base(t)
	house := houses(t, b)["alder-court"]
	if list, err := advisor.Choose(house, ""); err != nil || len(list) != len(house.Assemblies) {
		t.Errorf("all: %d, %v", len(list), err)
	}
	if _, err := advisor.Choose(house, "no such wall"); err == nil {
		t.Error("an unknown name is taken")
	}
}

// An interrupt ends the work with the error of the context.
func TestInterrupt(t *testing.T) {
	b := base(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := advisor.Analyze(ctx, rule.Tester{Base: b}, houses(t, b)["alder-court"].Assemblies); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}

// Every caution of a proposal is printed with it: in full where it is called for
// first, by its name afterwards.
func TestCautionsStandWithTheirSwap(t *testing.T) {
	b := base(t)
	m, tester := report.Maker{Base: b}, rule.Tester{Base: b}
	for name, house := range houses(t, b) {
		advice, err := advisor.Advise(context.Background(), tester, house.Assemblies, swap.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range advice {
			page := strings.Join(strings.Fields(text(t, m.Advice([]*swap.Advice{a}, nil, 2))), " ")
			for i := range a.Proposals {
				for _, c := range a.Proposals[i].Cautions {
					if say := strings.Join(strings.Fields(strings.TrimSuffix(c.Caution.Say, ".")), " "); !strings.Contains(page, say) {
						t.Errorf("%s, %s: caution %s is not said", name, a.Proposals[i].ID, c.Caution.ID)
					}
					if !strings.Contains(page, c.Caution.Title) {
						t.Errorf("%s, %s: caution %s is not named", name, a.Proposals[i].ID, c.Caution.ID)
					}
				}
			}
		}
	}
}
