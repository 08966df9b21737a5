package swap

import (
	"math"
	"math/bits"

	"relath/advisor/analysis"
)

// Goal is what plans are measured by.
type Goal string

// The goals of the screening, in their order.
const (
	Drying     Goal = "drying"     // yearly drying capacity at the worst plane
	Condensate Goal = "condensate" // peak of the monthly method
	Warmth     Goal = "warmth"     // lowest room-surface temperature ratio
	Glue       Goal = "glue"
	Food       Goal = "food" // faces of mold food toward cavities and rooms
	Heat       Goal = "heat" // U-factor
	Thickness  Goal = "thickness"
	Trades     Goal = "trades"
	Changed    Goal = "layers" // layers taken out, put in or coated
	Cost       Goal = "cost"   // material and labor by the user's prices; the same for all without them
)

// Allowed lists the goals.
func (Goal) Allowed() []string {
	return []string{string(Drying), string(Condensate), string(Warmth), string(Glue), string(Food), string(Heat), string(Thickness), string(Trades), string(Changed), string(Cost)}
}

// goals is the number of goals.
const goals = 10

// The places of the goals.
const (
	atDrying = iota
	atCondensate
	atWarmth
	atGlue
	atFood
	atHeat
	atThickness
	atTrades
	atChanged
	atCost
)

// Marks are the goals of one combination on their grid; less is better. Two
// combinations with the same mark are as good as each other in that goal.
type Marks [goals]int32

// The grid of the goals, in SI: differences below it are ties.
const (
	dryingStep     = 1.05           // a ratio: 5 %
	dryingFloor    = 0.1e-3 / 86400 // 0.1 g/(m² day), below which nothing dries
	condensateStep = 0.010          // kg/m²
	warmthStep     = 0.01
	glueStep       = 0.0488243 // kg/m², 1 lb/100 ft²
	heatStep       = 0.0113565 // W/(m²·K), 0.002 Btu/(h·ft²·°F)
	thicknessStep  = 0.00635   // m, 1/4 in
)

// neverJudged stands where the moisture methods have no answer: worse than any
// that they give.
const neverJudged = math.MaxInt32 / 2

func grid(v, step float64) int32 { return int32(math.Round(v / step)) }

// dryingMark rounds a drying capacity [kg/(m²·s)] to steps of 5 %.
func dryingMark(v float64) int32 {
	if v <= dryingFloor {
		return 0
	}
	if math.IsInf(v, 1) {
		return -neverJudged
	}
	return -int32(math.Round(math.Log(v/dryingFloor) / math.Log(dryingStep)))
}

// put enters what needs no moisture method.
func (m *Marks) put(s analysis.Sums, trades uint16, changed int) {
	m[atWarmth] = -grid(s.Ratio, warmthStep)
	m[atGlue], m[atFood] = grid(s.Glue, glueStep), int32(s.Food)
	m[atHeat], m[atThickness] = grid(s.U, heatStep), grid(s.Thickness, thicknessStep)
	m[atTrades], m[atChanged] = int32(bits.OnesCount16(trades)), int32(changed)
}

// beats says whether a is nowhere worse than b and better somewhere.
func (m *Marks) beats(b *Marks) bool {
	better := false
	for i, v := range m {
		if v > b[i] {
			return false
		}
		better = better || v < b[i]
	}
	return better
}
