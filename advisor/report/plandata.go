package report

import (
	"math"

	"relath/advisor/swap"
)

// PlanningData is what came of the search for plans.
type PlanningData struct {
	Plans      []PlanData      `json:"plans"`
	Front      []PlanData      `json:"front,omitempty"`
	Screened   int             `json:"screened"`
	OnFront    int             `json:"on-front"`
	AtOnce     int             `json:"at-once,omitempty"` // swaps combined at once, where not all could be
	Air        *AirData        `json:"air,omitempty"`
	Open       []string        `json:"open,omitempty"`     // aims for which no plan held up within the rounds of the search
	Unjudged   int             `json:"unjudged,omitempty"` // members of the front that were not judged within them
	TurnedDown []RejectionData `json:"turned-down,omitempty"`
	NotRun     []string        `json:"not-run,omitempty"` // members of the front that were not run hour by hour, where others were
	Apart      []ApartData     `json:"apart,omitempty"`
	Aside      []RejectionData `json:"aside,omitempty"`  // left out of every plan, as asked
	Barred     []RejectionData `json:"barred,omitempty"` // in no plan until what blocks them is cleared
	Joint      int             `json:"joint,omitempty"`  // swaps combined that are turned down by themselves
	Book       string          `json:"book,omitempty"`   // the price book in words
	Now        *PlanCostData   `json:"cost-now,omitempty"`
}

// PlanCostData is what is bought, material and labor, in the currency.
type PlanCostData struct {
	Currency string   `json:"currency"`
	Low      float64  `json:"low"`
	Best     float64  `json:"best"`
	High     float64  `json:"high"`
	Missing  []string `json:"missing,omitempty"` // what is not in it
}

func planCostData(c *swap.Costs, by *swap.Costing) *PlanCostData {
	if c == nil {
		return nil
	}
	t := c.Total()
	cents := func(v float64) float64 { return math.Round(v*100) / 100 }
	return &PlanCostData{Currency: by.Currency, Low: cents(t.Amount.Low), Best: cents(t.Amount.Best), High: cents(t.Amount.High), Missing: t.Missing}
}

// ApartData is a swap that does not fit where one of the others is in place.
type ApartData struct {
	Swap    string   `json:"swap"`
	Beside  []string `json:"beside"`
	Because []string `json:"because"`
}

// PlanData is one plan: its swaps together, and what it is the best at.
type PlanData struct {
	ProposalData
	Good   []string      `json:"good,omitempty"`
	Steps  []string      `json:"steps"`            // ids of the swaps
	Lifted []LiftedData  `json:"lifted,omitempty"` // steps that do not hold up by themselves
	Trades int           `json:"trades"`
	Layers int           `json:"layers"` // changed
	Cost   *PlanCostData `json:"cost,omitempty"`
}

// LiftedData is a step that holds up only in the plan, and why not by itself.
type LiftedData struct {
	Step    string   `json:"step"`
	Because []string `json:"because"`
}

// AirData is the cure that changes no layer.
type AirData struct {
	From     float64       `json:"from"` // relative humidity in the heating season, 0 to 1
	To       float64       `json:"to"`
	Resolved []FindingData `json:"resolved"`
}

func (m Maker) planningData(x *swap.Planning) (*PlanningData, error) {
	if x == nil {
		return nil, nil
	}
	d := &PlanningData{Screened: x.Screened, OnFront: x.OnFront, AtOnce: x.AtOnce, Open: x.Open, Unjudged: x.Unjudged, NotRun: x.NotRun}
	var err error
	if d.Plans, err = m.plansData(x, x.Plans); err != nil {
		return nil, err
	}
	if d.Front, err = m.plansData(x, x.Front); err != nil {
		return nil, err
	}
	if x.Air != nil {
		d.Air = &AirData{From: x.Air.From, To: x.Air.To, Resolved: findingsData(x.Air.Resolved)}
	}
	if x.Costing != nil {
		d.Book, d.Now = x.Costing.Book, planCostData(x.Now, x.Costing)
	}
	for _, r := range x.Aside {
		d.Aside = append(d.Aside, RejectionData(r))
	}
	d.Joint = x.Joint
	for _, r := range x.Barred {
		d.Barred = append(d.Barred, RejectionData(r))
	}
	for _, a := range x.Apart {
		d.Apart = append(d.Apart, ApartData(a))
	}
	for _, r := range x.TurnedDown {
		d.TurnedDown = append(d.TurnedDown, RejectionData(r))
	}
	return d, nil
}

func (m Maker) plansData(of *swap.Planning, list []*swap.Plan) ([]PlanData, error) {
	out := make([]PlanData, 0, len(list))
	for _, x := range list {
		p, err := m.proposalData(&x.Proposal)
		if err != nil {
			return nil, err
		}
		d := PlanData{ProposalData: p, Good: x.Good, Trades: x.Trades(), Layers: x.LayersChanged(), Cost: planCostData(x.Costs, of.Costing)}
		for _, s := range x.Steps {
			d.Steps = append(d.Steps, s.ID)
			if len(s.Alone) > 0 {
				d.Lifted = append(d.Lifted, LiftedData{Step: s.ID, Because: s.Alone})
			}
		}
		out = append(out, d)
	}
	return out, nil
}

// CompareData is one assembly of a comparison.
type CompareData struct {
	Name string `json:"name"`
	AssemblyData
	Cost *PlanCostData `json:"cost,omitempty"`
}

// CompareData gives the results behind a comparison.
func (m Maker) CompareData(list []Beside) []CompareData {
	out := make([]CompareData, len(list))
	for i, a := range list {
		out[i] = CompareData{Name: a.Name, AssemblyData: m.assemblyData(a.Result, a.Findings, a.Cautions), Cost: planCostData(a.Costs, a.Costing)}
	}
	return out
}
