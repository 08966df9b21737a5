package advisor_test

import (
	"context"
	"slices"
	"testing"

	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// drafty is a leaky house of 1958 whose wall has no sealed layer.
const drafty = `format: 1
house: Invented drafty house
place: des-moines-ia
built: 1958
code: {edition: IRC-2018, state: IA, zone: 5A, confirmed: yes}
air: {tightness: leaky}
indoor: {heating: {temperature: 68 F, humidity: 35 %}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    state: existing
    layers:
      - {name: siding, material: bevel-wood-siding}
      - {name: felt, material: asphalt-felt-15}
      - {name: sheathing, material: horizontal-board-sheathing, thickness: 3/4 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in}, fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in, sealed: no}
`

// TestTighteningSaysItsPrice: a swap or plan after which a sealed layer stops
// air where none did says that flue gas can spill, that fans must bring air,
// and that radon is tested. (Weatherization field practice, ASHRAE 62.2, EPA.)
func TestTighteningSaysItsPrice(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	advice := propose(t, tester, resolve(t, tester.Base, "drafty.yaml", []byte(drafty)).Assemblies[0], "")
	planning, err := swap.Plans(context.Background(), tester, advice, swap.PlanOptions{})
	if err != nil {
		t.Fatal(err)
	}
	tight := 0
	check := func(p *swap.Proposal) {
		if !gainsAirBarrier(p) {
			return
		}
		tight++
		for _, id := range []string{"backdraft", "ventilation", "radon"} {
			if !slices.ContainsFunc(p.Cautions, func(c rule.Caution) bool { return c.Caution.ID == id && c.Certain }) {
				t.Errorf("%s tightens the house and has no word of %s", p.ID, id)
			}
		}
	}
	for i := range advice.Proposals {
		check(&advice.Proposals[i])
	}
	for _, p := range planning.Plans {
		check(&p.Proposal)
	}
	if tight < 2 {
		t.Errorf("%d swaps and plans tighten the house: too few to tell", tight)
	}
}

func gainsAirBarrier(p *swap.Proposal) bool {
	return slices.ContainsFunc(p.Duties, func(d swap.DutyChange) bool {
		return d.Duty == "stop-air" && d.Was != kb.Yes && d.Verdict == kb.Yes
	})
}
