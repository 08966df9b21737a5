package report

import (
	"relath/advisor/assembly"
	"relath/advisor/swap"
	"relath/kb/quantity"
)

// SpecData is a specification in SI.
type SpecData struct {
	Plans []SpecPlanData `json:"plans"`
	Order OrderedData    `json:"order"`
	House string         `json:"house"` // the description with the plans
}

// SpecPlanData is the plan of one assembly.
type SpecPlanData struct {
	Steps  []ProposalData `json:"steps"`
	Before AssemblyData   `json:"before"`
	After  AssemblyData   `json:"after"`
	Others []string       `json:"others,omitempty"`
	Limits []LimitData    `json:"limits,omitempty"`
}

// LimitData is what a product of a layer must have.
type LimitData struct {
	Layer      string     `json:"layer"`
	Material   string     `json:"material"`
	Dry        *BoundData `json:"permeance-dry,omitempty"` // with its coats
	Wet        *BoundData `json:"permeance-wet,omitempty"`
	Resistance *BoundData `json:"thermal-resistance,omitempty"`
	Withheld   string     `json:"withheld,omitempty"`
}

// BoundData is the range of a property; an end that may be anything is absent.
type BoundData struct {
	Low       *float64 `json:"low,omitempty"`
	High      *float64 `json:"high,omitempty"`
	Best      float64  `json:"best"`
	Unit      string   `json:"unit"`
	BelowLow  []string `json:"below-low,omitempty"` // findings
	AboveHigh []string `json:"above-high,omitempty"`
}

// SpecData gives the results behind a specification. It is an error when a
// description cannot be written.
func (m Maker) SpecData(s Spec) (SpecData, error) {
	d := SpecData{Order: m.OrderData(Order{House: s.Before, Takeoff: s.Takeoff, Cost: s.Cost, Schedule: s.Schedule})}
	text, err := assembly.Write(s.House.House)
	if err != nil {
		return d, err
	}
	d.House = string(text)
	for i := range s.Plans {
		x := &s.Plans[i]
		plan := SpecPlanData{
			Before: m.assemblyData(x.Before, nil, nil), After: m.assemblyData(x.After, x.Findings, x.Cautions), Others: x.Others,
		}
		for _, step := range x.Steps {
			data, err := m.proposalData(step)
			if err != nil {
				return d, err
			}
			plan.Steps = append(plan.Steps, data)
		}
		for k := range x.Limits {
			plan.Limits = append(plan.Limits, limitData(&x.Limits[k]))
		}
		d.Plans = append(d.Plans, plan)
	}
	return d, nil
}

func limitData(x *swap.Limit) LimitData {
	return LimitData{
		Layer: x.Part.Name, Material: x.Material.ID, Withheld: x.Withheld,
		Dry: boundData(&x.Dry, quantity.Permeance), Wet: boundData(&x.Wet, quantity.Permeance), Resistance: boundData(&x.Resistance, quantity.ThermalResistance),
	}
}

func boundData(b *swap.Bound, d quantity.Dimension) *BoundData {
	if !b.Asked {
		return nil
	}
	out := &BoundData{Best: b.Best, Unit: d.Unit(), BelowLow: b.Low.Breaks, AboveHigh: b.High.Breaks}
	if b.Low.Set {
		out.Low = &b.Low.At
	}
	if b.High.Set {
		out.High = &b.High.At
	}
	return out
}
