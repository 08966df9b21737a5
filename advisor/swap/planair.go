package swap

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/strict"
)

// AirMove is the cheapest cure of all where it is enough: drier room air in
// winter, by ventilation and by giving off less water.
type AirMove struct {
	From, To float64 // relative humidity in the heating season, 0..1
	House    *assembly.House
	After    *analysis.Result
	Compare  []Compared
	Resolved []rule.Finding
}

const (
	airStep  = 0.05
	driestAt = 0.25 // drier air is bad for people and wood
)

// drierAir lowers the humidity of the heating season step by step until
// findings of moisture or mold that surely hold are gone. It is nil where that
// clears nothing.
func (f *finder) drierAir(ctx context.Context) (*AirMove, error) {
	trouble := func(list []rule.Finding) bool {
		return slices.ContainsFunc(list, func(x rule.Finding) bool {
			return (x.Kind == "moisture" || x.Kind == "mold") && x.Verdict == kb.No && x.Level != "info"
		})
	}
	now := f.of.House.Heating.Humidity
	if !trouble(f.found) {
		return nil, nil
	}
	for to := now - airStep; to > driestAt-airStep/2; to -= airStep {
		m, err := f.withAir(ctx, to)
		if err != nil || m == nil {
			return nil, err
		}
		if trouble(m.Resolved) {
			m.From = now
			return m, nil
		}
	}
	return nil, nil
}

// withAir analyzes the assembly with another humidity in the heating season.
func (f *finder) withAir(ctx context.Context, humidity float64) (*AirMove, error) {
	house, err := reread(f.house, f.of.Index)
	if err != nil {
		return nil, err
	}
	if house.Indoor.Heating == nil {
		house.Indoor.Heating = &assembly.RoomAir{}
	}
	house.Indoor.Readings = nil // they speak of the air as it is
	house.Indoor.Heating.Humidity = strict.Text{Value: fmt.Sprintf("%.0f %%", 100*humidity)}
	if house, err = reread(house, f.of.Index); err != nil {
		return nil, err
	}
	resolved, problems := assembly.Resolve(house, nil, f.base)
	if len(problems) > 0 {
		return nil, nil
	}
	after, err := analysis.Run(ctx, f.base, resolved.Assemblies[f.of.Index])
	if err != nil {
		return nil, err
	}
	m := &AirMove{To: humidity, House: house, After: after, Compare: f.compare(after)}
	m.Resolved, _, _ = sortFindings(f.found, f.found, rule.Evaluate(f.tester, after))
	return m, nil
}
