package report

import "relath/advisor/swap"

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
	Apart      []ApartData     `json:"apart,omitempty"`
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
	Good   []string `json:"good,omitempty"`
	Steps  []string `json:"steps"` // ids of the swaps
	Trades int      `json:"trades"`
	Layers int      `json:"layers"` // changed
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
	d := &PlanningData{Screened: x.Screened, OnFront: x.OnFront, AtOnce: x.AtOnce, Open: x.Open, Unjudged: x.Unjudged}
	var err error
	if d.Plans, err = m.plansData(x.Plans); err != nil {
		return nil, err
	}
	if d.Front, err = m.plansData(x.Front); err != nil {
		return nil, err
	}
	if x.Air != nil {
		d.Air = &AirData{From: x.Air.From, To: x.Air.To, Resolved: findingsData(x.Air.Resolved)}
	}
	for _, a := range x.Apart {
		d.Apart = append(d.Apart, ApartData(a))
	}
	for _, r := range x.TurnedDown {
		d.TurnedDown = append(d.TurnedDown, RejectionData(r))
	}
	return d, nil
}

func (m Maker) plansData(list []*swap.Plan) ([]PlanData, error) {
	var out []PlanData
	for _, x := range list {
		p, err := m.proposalData(&x.Proposal)
		if err != nil {
			return nil, err
		}
		d := PlanData{ProposalData: p, Good: x.Good, Trades: x.Trades(), Layers: x.LayersChanged()}
		for _, s := range x.Steps {
			d.Steps = append(d.Steps, s.ID)
		}
		out = append(out, d)
	}
	return out, nil
}

// CompareData is one assembly of a comparison.
type CompareData struct {
	Name string `json:"name"`
	AssemblyData
}

// CompareData gives the results behind a comparison.
func (m Maker) CompareData(names []string, list []Analysis) []CompareData {
	out := make([]CompareData, len(list))
	for i, a := range list {
		out[i] = CompareData{Name: names[i], AssemblyData: m.assemblyData(a.Result, a.Findings, a.Cautions)}
	}
	return out
}
