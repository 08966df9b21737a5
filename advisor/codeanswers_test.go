package advisor_test

import (
	"slices"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb/quantity"
)

// painted is a framed wall with painted gypsum board and nothing else to slow
// vapor. The three words are place, code entry and cladding.
const painted = `format: 1
house: Invented wall
place: PLACE
code: CODE
indoor: {heating: {temperature: 68 F, humidity: 35 %}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    state: proposed
    layers:
      - {name: siding, material: vinyl-siding}
      - {name: gap, cavity: 3/8 in, air: vented}
      - {name: felt, material: asphalt-felt-15}
      - {name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}
      - {name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: mineral-wool-batt, thickness: 5-1/2 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}}
`

// masonry is a mass wall with painted board on studs inside.
const masonry = `format: 1
house: Invented wall
place: PLACE
code: CODE
indoor: {heating: {temperature: 68 F, humidity: 35 %}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    state: proposed
    layers:
      - {name: brick, material: solid-brick-wall, thickness: 12 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in}, fill: [{material: mineral-wool-batt, thickness: 3-1/2 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}}
`

// TestPlasterBringsItsRetarder: lime plaster is above 10 perms and in no
// retarder class. IRC R702.7 asks for Class I or II on framed walls in zones 5
// to 8 and Marine 4 (2009 to 2021); the 2024 text ends the exception at zone 3,
// and 2021 is treated alike; Wisconsin SPS 322.38 asks for 1.0 perm dry cup;
// masonry is no framed wall. Where one is asked for, the swap brings it, and
// then no table blocks it.
func TestPlasterBringsItsRetarder(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	for _, test := range []struct {
		name, house, place, code string
		brings                   bool
	}{
		{"zone 4, 2018", painted, "columbia-mo", "{edition: IRC-2018, state: MO, zone: 4A, confirmed: yes}", false},
		{"zone 4, 2021", painted, "columbia-mo", "{edition: IRC-2021, state: MO, zone: 4A, confirmed: yes}", true},
		{"zone 4, 2024", painted, "columbia-mo", "{edition: IRC-2024, state: MO, zone: 4A, confirmed: yes}", true},
		{"Marine 4", painted, "seattle-wa", "{edition: IRC-2018, state: WA, zone: 4C, confirmed: yes}", true},
		{"zone 5", painted, "des-moines-ia", "{edition: IRC-2018, state: IA, zone: 5A, confirmed: yes}", true},
		{"zone 6, 2021", painted, "minneapolis-st-paul-mn", "{edition: IRC-2021, state: MN, zone: 6A, confirmed: yes}", true},
		{"zone 7", painted, "duluth-mn", "{edition: IRC-2018, state: MN, zone: '7', confirmed: yes}", true},
		{"Wisconsin", painted, "madison-wi", "{edition: IRC-2018, state: WI, zone: 6A, confirmed: yes}", true},
		{"masonry in zone 5", masonry, "dayton-oh", "{edition: IRC-2018, state: OH, zone: 5A, confirmed: yes}", false},
	} {
		t.Run(test.name, func(t *testing.T) {
			text := strings.NewReplacer("PLACE", test.place, "CODE", test.code).Replace(test.house)
			house := resolve(t, tester.Base, "wall.yaml", []byte(text))
			advice := propose(t, tester, house.Assemblies[0], "board")
			i := slices.IndexFunc(advice.Proposals, func(p swap.Proposal) bool { return p.ID == "lime-on-lath@board" })
			if i < 0 {
				t.Fatalf("not proposed: %s", turnedDown(advice, "lime-on-lath", "board"))
			}
			p := &advice.Proposals[i]
			if got := holdsResponsive(p); got != test.brings {
				t.Errorf("brings a responsive retarder: %v, want %v", got, test.brings)
			}
			for _, f := range slices.Concat(p.Introduced, p.Remaining) {
				if strings.HasPrefix(f.Rule, "retarder-") && f.Level == "block" {
					t.Errorf("%s still stands: %s", f.Rule, f.Say)
				}
			}
			if !slices.ContainsFunc(p.Cautions, func(c rule.Caution) bool { return c.Caution.ID == "lime-burns" }) {
				t.Error("no word that lime burns")
			}
		})
	}
}

// holdsResponsive says whether the changed house has a responsive retarder.
func holdsResponsive(p *swap.Proposal) bool {
	return slices.ContainsFunc(p.After.Assembly.Variants[0].Layers, func(part *assembly.Part) bool {
		return part.Material != nil && slices.Contains(part.Material.Terms, "responsive-retarder")
	})
}

// TestPanelsComeOffOnlyForBracing: no swap takes a structural panel off a wall
// that must brace without another listed method in its place (IRC Table
// R602.10.4), and each such swap says that the official must agree.
func TestPanelsComeOffOnlyForBracing(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	text := strings.NewReplacer("PLACE", "des-moines-ia", "CODE", "{edition: IRC-2018, state: IA, zone: 5A, confirmed: yes}").Replace(painted)
	text = strings.Replace(text, "state: proposed", "state: proposed\n    needs: [brace]", 1)
	advice := propose(t, tester, resolve(t, tester.Base, "wall.yaml", []byte(text)).Assemblies[0], "sheathing")
	if len(advice.Proposals) == 0 {
		t.Fatal("nothing is proposed")
	}
	for _, p := range advice.Proposals {
		for _, d := range p.Duties {
			if d.Duty == "brace" && (len(d.After) == 0 || d.Verdict == "no") {
				t.Errorf("%s leaves nothing to brace the wall", p.ID)
			}
		}
		if len(p.Needs) == 0 {
			t.Errorf("%s does not say who must agree", p.ID)
		}
	}
	for _, id := range []string{"horizontal-board-sheathing", "asphalted-fiberboard-sheathing", "mineral-wool-board"} {
		if because := turnedDown(advice, id, "sheathing"); !strings.Contains(because, "brace") {
			t.Errorf("%s is not turned down for bracing: %q", id, because)
		}
	}
}
