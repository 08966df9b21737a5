package report

import (
	"relath/advisor/assembly"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// AdviceData is the advice on one assembly.
type AdviceData struct {
	Before     AssemblyData    `json:"before"`
	Leave      string          `json:"leave,omitempty"`
	Proposals  []ProposalData  `json:"proposals"`
	Rejections []RejectionData `json:"rejections"`
	Plans      *PlanningData   `json:"plans,omitempty"`
}

// ProposalData is one swap, applied and recomputed.
type ProposalData struct {
	ID         string         `json:"id"`
	Title      string         `json:"title"`
	Layer      string         `json:"layer"`
	Standing   string         `json:"standing"`
	Why        string         `json:"why"`
	Changes    []ChangeData   `json:"changes"`
	Compare    []ComparedData `json:"compare"`
	Resolved   []FindingData  `json:"resolved"`
	Introduced []FindingData  `json:"introduced"`
	Remaining  []FindingData  `json:"remaining"`
	Duties     []DutyData     `json:"duties"`
	Needs      []NeedData     `json:"needs"`
	Asks       []string       `json:"asks"` // what must be found out before it surely fits
	Cautions   []CautionData  `json:"cautions"`
	Hourly     *VerifiedData  `json:"hourly,omitempty"`
	After      AssemblyData   `json:"after"`
	House      string         `json:"house"` // the description with the swap applied
}

// ChangeData is one line of what is done; without From it is added, without To
// taken out.
type ChangeData struct {
	Layer string `json:"layer"`
	From  string `json:"from,omitempty"`
	To    string `json:"to,omitempty"`
	Stays bool   `json:"stays,omitempty"` // the layer stays, and To says what is new
}

// ComparedData is one fact before and after.
type ComparedData struct {
	Fact     string      `json:"fact"`
	Before   NumberData  `json:"before"`
	After    NumberData  `json:"after"`
	Change   string      `json:"change"`
	Evidence kb.Evidence `json:"evidence,omitempty"`
}

// DutyData says who does a duty before and after.
type DutyData struct {
	Duty    string     `json:"duty"`
	Before  []string   `json:"before"`
	After   []string   `json:"after"`
	Was     kb.Verdict `json:"was"`
	Verdict kb.Verdict `json:"verdict"`
	Asks    []string   `json:"asks,omitempty"`
}

// NeedData is somebody who must agree.
type NeedData struct {
	Who  string `json:"who"`
	What string `json:"what"`
}

// RejectionData is a candidate that was turned down.
type RejectionData struct {
	Candidate string   `json:"candidate"`
	ID        string   `json:"id"`
	Layer     string   `json:"layer"`
	Because   []string `json:"because"`
}

// HouseAdviceData is the advice on one house.
type HouseAdviceData struct {
	Assemblies []AdviceData `json:"assemblies"`
	Finishes   []FinishData `json:"finishes"`
}

// FinishData is one line of the finish schedule.
type FinishData struct {
	Room       string           `json:"room"`
	Part       string           `json:"part"`
	Material   string           `json:"material"`
	Glue       *NumberData      `json:"glue,omitempty"`
	GlueLacks  string           `json:"glue_lacks,omitempty"`
	Proposals  []FinishSwapData `json:"proposals"`
	Rejections []RejectionData  `json:"rejections"`
}

// FinishSwapData is one swap of a finish.
type FinishSwapData struct {
	ID        string        `json:"id"`
	Title     string        `json:"title"`
	Material  string        `json:"material"`
	Glue      *NumberData   `json:"glue,omitempty"`
	GlueLacks string        `json:"glue_lacks,omitempty"`
	MoldFrom  kb.MoldClass  `json:"mold_from,omitempty"`
	MoldTo    kb.MoldClass  `json:"mold_to,omitempty"`
	Cautions  []CautionData `json:"cautions"`
}

// HouseAdviceData gives the results of advice on a house. It is an error when
// a description cannot be written.
func (m Maker) HouseAdviceData(list []*swap.Advice, finishes []swap.FinishAdvice) (HouseAdviceData, error) {
	assemblies, err := m.AdviceData(list)
	if err != nil {
		return HouseAdviceData{}, err
	}
	out := HouseAdviceData{Assemblies: assemblies}
	for _, a := range finishes {
		d := FinishData{Room: a.Finish.Room.Value, Part: a.Name, Material: a.Material.ID}
		d.Glue, d.GlueLacks = amountData(a.Glue)
		for _, x := range a.Proposals {
			s := FinishSwapData{
				ID: x.Recipe.ID, Title: x.Title, Material: x.Material.ID,
				MoldFrom: x.MoldFrom, MoldTo: x.MoldTo, Cautions: cautionsData(x.Cautions),
			}
			s.Glue, s.GlueLacks = amountData(x.Glue)
			d.Proposals = append(d.Proposals, s)
		}
		for _, r := range a.Rejections {
			d.Rejections = append(d.Rejections, RejectionData(r))
		}
		out.Finishes = append(out.Finishes, d)
	}
	return out, nil
}

// amountData gives a mass in kg, or what it lacks.
func amountData(a swap.Amount) (*NumberData, string) {
	if !a.Known {
		return nil, a.Missing
	}
	return &NumberData{Low: a.Mass.Low, Best: a.Mass.Best, High: a.Mass.High, Unit: quantity.Mass.Unit()}, ""
}

// AdviceData gives the results of advice. It is an error when a description
// cannot be written.
func (m Maker) AdviceData(list []*swap.Advice) ([]AdviceData, error) {
	out := make([]AdviceData, len(list))
	for i, a := range list {
		d := AdviceData{Before: m.assemblyData(a.Before, a.Findings, a.Cautions), Leave: a.Leave}
		for k := range a.Proposals {
			p, err := m.proposalData(&a.Proposals[k])
			if err != nil {
				return nil, err
			}
			d.Proposals = append(d.Proposals, p)
		}
		for _, r := range a.Rejections {
			d.Rejections = append(d.Rejections, RejectionData(r))
		}
		var err error
		if d.Plans, err = m.planningData(a.Plans); err != nil {
			return nil, err
		}
		out[i] = d
	}
	return out, nil
}

func (m Maker) proposalData(x *swap.Proposal) (ProposalData, error) {
	text, err := assembly.Write(x.House)
	d := ProposalData{
		ID: x.ID, Title: x.Title, Layer: x.Layer, Standing: string(x.Standing), Why: x.Why,
		Resolved: findingsData(x.Resolved), Introduced: findingsData(x.Introduced), Remaining: findingsData(x.Remaining),
		Asks: x.Asks, Cautions: cautionsData(x.Cautions), House: string(text), After: m.assemblyData(x.After, nil, nil),
	}
	if x.Hourly != nil {
		d.Hourly = verifiedData(x.Hourly)
	}
	for _, c := range x.Changes {
		d.Changes = append(d.Changes, ChangeData{Layer: c.Layer, From: c.From, To: c.To, Stays: c.Stays})
	}
	for _, c := range x.Compare {
		d.Compare = append(d.Compare, ComparedData{
			Fact: c.Fact.ID, Before: number3(c.Before, c.Fact.Dimension), After: number3(c.After, c.Fact.Dimension),
			Change: c.Change, Evidence: c.Mark,
		})
	}
	for _, x := range x.Duties {
		d.Duties = append(d.Duties, DutyData(x))
	}
	for _, n := range x.Needs {
		d.Needs = append(d.Needs, NeedData{Who: n.Who, What: n.What})
	}
	return d, err
}
