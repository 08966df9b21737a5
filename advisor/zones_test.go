package advisor_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb/quantity"
)

// zoneWall is one wall with nothing to slow vapor but its paint, planned today.
const zoneWall = `format: 1
house: One wall in five places
note: invented
place: %s
code: {edition: IRC-2018, state: %s, zone: %s, confirmed: yes}
air: {tightness: 5 ACH50}
indoor:
  heating: {temperature: 70 F, humidity: 35 %%}
  cooling: {temperature: 74 F, humidity: 50 %%}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    faces: north
    area: 300 ft2
    state: proposed
    needs: [brace]
    layers:
      - {name: siding, material: vinyl-siding, color: light}
      - {name: gap, cavity: 3/8 in, air: drained}
      - {name: wrap, material: nonwoven-house-wrap}
      - {name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}
      - name: bay
        framing: {material: spf-lumber, size: 2x6, spacing: 16 in}
        fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]
      - {name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}}
`

// zoned is the wall in one place.
type zoned struct {
	title  string
	of     *assembly.Assembly
	advice *swap.Advice
}

// The same wall in zones 3, 5, 6 and 7 and in a state with a rule of its own gets
// other plans, or none, and for each plan of another place that is not among the
// plans here there is a reason. The page of it is a golden file.
func TestOneWallInFivePlaces(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b, System: quantity.InchPound}
	var list []*zoned
	for _, at := range [][]string{
		{"atlanta-ga", "GA", "3A"}, {"des-moines-ia", "IA", "5A"}, {"bismarck-nd", "ND", "6A"}, {"duluth-mn", "MN", "7"}, {"madison-wi", "WI", "6A"},
	} {
		house, err := advisor.Load(b, "wall.yaml", fmt.Appendf(nil, zoneWall, at[0], at[1], at[2]))
		if err != nil {
			t.Fatal(err)
		}
		advice, err := advisor.Advise(context.Background(), tester, house.Assemblies, swap.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := advisor.PlanAll(context.Background(), tester, advice, swap.PlanOptions{}); err != nil {
			t.Fatal(err)
		}
		list = append(list, &zoned{fmt.Sprintf("%s, zone %s", b.Place(at[0]).Name, at[2]), house.Assemblies[0], advice[0]})
	}
	sets := make(map[string]string)
	page := "One wall in five places\n\nVinyl siding, a wrap, strand board, 2x6 studs with glass wool, gypsum board with two coats of latex\npaint; planned under IRC 2018.\n"
	for _, z := range list {
		set := strings.Join(idsOf(z.advice.Plans.Plans), " ")
		if other := sets[set]; other != "" {
			t.Errorf("%s and %s get the same plans", z.title, other)
		}
		sets[set] = z.title
		page += "\n" + z.title + "\n" + strings.Repeat("-", len(z.title)) + "\n\n" + z.words() + z.others(t, tester, list)
	}
	for _, says := range []string{
		"Nothing here asks for a change", "vapor retarder on framed walls, model code through 2018", "framed wall insulation, 2012 to 2018, zones 6 to 8",
		"framed wall insulation, Minnesota", "vapor retarder, Wisconsin dwelling code",
	} {
		if !strings.Contains(page, says) && !strings.Contains(page, strings.ToUpper(says[:1])+says[1:]) {
			t.Errorf("no place names %q", says)
		}
	}
	golden(t, "zones.plans.txt", page)
}

func idsOf(list []*swap.Plan) []string {
	var ids []string
	for _, p := range list {
		ids = append(ids, p.ID)
	}
	return ids
}

// words says what stands out in a place and which plans there are.
func (z *zoned) words() string {
	text := ""
	for _, f := range z.advice.Findings {
		if f.Level != "info" {
			text += fmt.Sprintf("What stands out: %s (%s).\n", lowerFirst(f.Title), f.Verdict)
		}
	}
	if len(z.advice.Plans.Plans) == 0 {
		return text + z.advice.Leave + "\n"
	}
	for i, p := range z.advice.Plans.Plans {
		text += fmt.Sprintf("\nPlan %d, %s: %s.\n", i+1, strings.Join(p.Good, ", "), stepWords(p))
		text += fmt.Sprintf("  Clears: %s.\n", titlesOf(p.Resolved))
		if left := weighty(p); len(left) > 0 {
			text += fmt.Sprintf("  Leaves or brings: %s.\n", strings.Join(left, "; "))
		}
	}
	return text
}

// others says, of each plan for another place that is none of the plans here, why.
func (z *zoned) others(t *testing.T, tester rule.Tester, list []*zoned) string {
	t.Helper()
	here := idsOf(z.advice.Plans.Plans)
	text := ""
	var seen []string
	for _, o := range list {
		for _, p := range o.advice.Plans.Plans {
			if slices.Contains(here, p.ID) || slices.Contains(seen, p.ID) {
				continue
			}
			seen = append(seen, p.ID)
			why := z.whyNot(t, tester, p)
			if why == "" {
				t.Errorf("%s: no reason against %s", z.title, p.ID)
			}
			text += fmt.Sprintf("- %s (a plan for %s): %s\n", stepWords(p), o.title, why)
		}
	}
	if text == "" || len(here) == 0 {
		return "" // it is left alone: nothing is put in
	}
	return "\nWhat is a plan elsewhere and not here:\n\n" + text
}

// whyNot gives the reason why a plan for another place is not among those here.
func (z *zoned) whyNot(t *testing.T, tester rule.Tester, p *swap.Plan) string {
	t.Helper()
	if z.advice.Leave != "" {
		return "nothing here asks for a change."
	}
	for _, s := range p.Steps {
		for _, r := range z.advice.Rejections {
			if id, _, _ := strings.Cut(s.ID, "@"); r.ID == id && r.Layer == s.Layer {
				return fmt.Sprintf("%s is turned down here: %s.", lowerFirst(s.Title), strings.TrimSuffix(strings.Join(r.Because, "; "), "."))
			}
		}
	}
	built, why, err := swap.BuildPlan(context.Background(), tester, z.advice, []string{p.ID})
	if err != nil {
		t.Fatal(err)
	}
	if len(why) > 0 {
		return "it does not hold up here: " + strings.TrimSuffix(strings.Join(why, "; "), ".") + "."
	}
	left := weighty(built)
	for _, own := range z.advice.Plans.Plans {
		left = slices.DeleteFunc(left, func(x string) bool { return slices.Contains(weighty(own), x) })
	}
	if len(left) > 0 {
		return "it leaves or brings here: " + strings.Join(left, "; ") + "."
	}
	if why := z.blockedStep(p); why != "" {
		return why
	}
	for i, own := range z.advice.Plans.Plans {
		if atLeast(own, built) {
			return fmt.Sprintf("plan %d is as good or better at everything.", i+1)
		}
	}
	if built.Standing == swap.Blocked {
		return "it is blocked here: " + strings.Join(weighty(built), "; ") + "."
	}
	return fmt.Sprintf("it holds up here too (drying %s), and at each aim a plan above is better or leaves less.", dryingWords(built))
}

// blockedStep says which of the steps is blocked here by itself, and by what.
func (z *zoned) blockedStep(p *swap.Plan) string {
	for _, s := range p.Steps {
		for i := range z.advice.Proposals {
			own := &z.advice.Proposals[i]
			if own.ID == s.ID && own.Standing == swap.Blocked {
				return fmt.Sprintf("%s is blocked here by itself: %s.", lowerFirst(s.Title), strings.Join(weighty(&swap.Plan{Proposal: *own}), "; "))
			}
		}
	}
	return ""
}

// atLeast says whether a plan is nowhere worse than another one.
func atLeast(a, b *swap.Plan) bool {
	for i, v := range a.Marks {
		if v > b.Marks[i] {
			return false
		}
	}
	return true
}

func dryingWords(p *swap.Plan) string {
	for _, c := range p.Compare {
		if c.Fact.ID == "drying-capacity" {
			return quantity.Format(c.After.Best, c.Fact.Dimension, quantity.InchPound)
		}
	}
	return "not known"
}

// weighty lists what a plan leaves or brings that is more than information.
func weighty(p *swap.Plan) []string {
	var list []string
	for _, f := range slices.Concat(p.Introduced, p.Remaining) {
		if f.Level != "info" {
			list = append(list, fmt.Sprintf("%s (%s)", lowerFirst(f.Title), f.Verdict))
		}
	}
	return list
}

func titlesOf(list []rule.Finding) string {
	var titles []string
	for _, f := range list {
		titles = append(titles, lowerFirst(f.Title))
	}
	if len(titles) == 0 {
		return "nothing"
	}
	return strings.Join(titles, "; ")
}

func stepWords(p *swap.Plan) string {
	var titles []string
	for _, s := range p.Steps {
		titles = append(titles, lowerFirst(s.Title))
	}
	return strings.Join(titles, "; ")
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }
