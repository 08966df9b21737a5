package report

import (
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// NumberData is a quantity in SI, unrounded.
type NumberData struct {
	Low  float64 `json:"low"`
	Best float64 `json:"best"`
	High float64 `json:"high"`
	Unit string  `json:"unit"` // SI; empty for plain numbers
}

// FactData is one fact.
type FactData struct {
	Known    bool         `json:"known"`
	Missing  string       `json:"missing,omitempty"`
	Number   *NumberData  `json:"number,omitempty"`
	Words    []string     `json:"words,omitempty"`
	Flag     *bool        `json:"flag,omitempty"`
	Mixed    bool         `json:"mixed,omitempty"` // words or a flag that may differ
	Evidence kb.Evidence  `json:"evidence,omitempty"`
	Minor    int          `json:"minor-inputs,omitempty"`
	Model    string       `json:"model,omitempty"`
	Drivers  []DriverData `json:"drivers,omitempty"`
	Inputs   []InputData  `json:"inputs,omitempty"`
	Warnings []string     `json:"warnings,omitempty"`
}

// DriverData is an input and the ends to which it moves a fact.
type DriverData struct {
	Input InputData  `json:"input"`
	Moves NumberData `json:"moves"`
}

// InputData names a value that went into a fact.
type InputData struct {
	Layer    string      `json:"layer,omitempty"`
	Material string      `json:"material"` // or system or assumption
	Property string      `json:"property"`
	Source   string      `json:"source,omitempty"`
	Locator  string      `json:"locator,omitempty"`
	Evidence kb.Evidence `json:"evidence,omitempty"`
}

// LayerData is one layer of a variant.
type LayerData struct {
	Name  string              `json:"name"`
	Facts map[string]FactData `json:"facts"`
}

// VariantData is one way the assembly may be built.
type VariantData struct {
	Settled []string            `json:"settled,omitempty"`
	Facts   map[string]FactData `json:"facts"`
	Layers  []LayerData         `json:"layers"`
}

// AssemblyData is one analyzed assembly.
type AssemblyData struct {
	Name        string            `json:"name"`
	Kind        string            `json:"kind"`
	Between     []string          `json:"between"`
	Variants    []VariantData     `json:"variants"`
	Drying      []DryingData      `json:"drying,omitempty"`
	Findings    []FindingData     `json:"findings"`
	Codes       []TableAnswerData `json:"codes,omitempty"`
	Cautions    []CautionData     `json:"cautions"`
	Measure     []ToMeasureData   `json:"measure,omitempty"`
	Readings    []ReadingData     `json:"readings,omitempty"`
	Assumptions []AssumptionData  `json:"assumptions"`
	Models      []string          `json:"models"`
	Warnings    []string          `json:"warnings"`
	Hourly      *HourlyData       `json:"hourly,omitempty"`
}

// DryingData is how much water could leave a soaked layer.
type DryingData struct {
	Layer   string      `json:"layer"`
	Season  string      `json:"season"`
	Outward *NumberData `json:"outward"`
	Inward  *NumberData `json:"inward"`
}

// FindingData is one finding.
type FindingData struct {
	Rule     string       `json:"rule"`
	Title    string       `json:"title"`
	Kind     string       `json:"kind"`
	Level    string       `json:"level"`
	Verdict  kb.Verdict   `json:"verdict"`
	Layer    string       `json:"layer,omitempty"`
	Say      string       `json:"say"`
	Why      string       `json:"why"`
	Left     string       `json:"left,omitempty"`
	Settle   string       `json:"settle,omitempty"`
	Decider  string       `json:"decider,omitempty"`
	Turns    []TurnData   `json:"turns,omitempty"`
	Flip     string       `json:"flip,omitempty"` // where between the turns the answer turns
	Because  []ReasonData `json:"because,omitempty"`
	Rows     []RowData    `json:"rows,omitempty"`
	Cautions []string     `json:"cautions,omitempty"`
	Sources  []BasisData  `json:"sources"`
	Evidence kb.Evidence  `json:"evidence,omitempty"`
}

// ReasonData is one line of explanation.
type ReasonData struct {
	Fact     string      `json:"fact,omitempty"`
	Layer    string      `json:"layer,omitempty"`
	Text     string      `json:"text"`
	Verdict  kb.Verdict  `json:"verdict"`
	Evidence kb.Evidence `json:"evidence,omitempty"`
}

// RowData is one row of a code table.
type RowData struct {
	Row     string       `json:"row"`
	Verdict kb.Verdict   `json:"verdict"`
	Because []ReasonData `json:"because,omitempty"`
	Source  BasisData    `json:"source"`
}

// BasisData names a source.
type BasisData struct {
	Source   string      `json:"source"`
	Locator  string      `json:"locator,omitempty"`
	Evidence kb.Evidence `json:"evidence"`
}

// CautionData is one caution.
type CautionData struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Say     string   `json:"say"`
	Ask     string   `json:"ask,omitempty"`
	For     []string `json:"for"`
	Certain bool     `json:"certain"`
}

// AssumptionData is one default.
type AssumptionData struct {
	ID     string    `json:"id,omitempty"`
	Text   string    `json:"text"`
	Source BasisData `json:"source"`
}

func rowsData(list []rule.RowResult) []RowData {
	var out []RowData
	for _, r := range list {
		out = append(out, RowData{Row: r.Row, Verdict: r.Verdict, Because: reasonsData(r.Because), Source: basisData(r.Basis)})
	}
	return out
}

// AnalysisData gives the results of analyzed assemblies.
func (m Maker) AnalysisData(list []Analysis) []AssemblyData {
	out := make([]AssemblyData, len(list))
	for i, a := range list {
		out[i] = m.assemblyData(a.Result, a.Findings, a.Cautions)
		out[i].Measure, out[i].Codes = toMeasureData(a.Measures), tableAnswersData(a.Codes)
	}
	return out
}

func (m Maker) assemblyData(r *analysis.Result, found []rule.Finding, cautions []rule.Caution) AssemblyData {
	d := AssemblyData{
		Name: r.Assembly.Name, Kind: string(r.Assembly.Kind), Between: sides(r.Assembly), Findings: findingsData(found),
		Cautions: cautionsData(cautions), Models: r.Models, Warnings: r.Warnings, Drying: dryingData(r.Variants[0]),
		Hourly: hourlyData(r.Hourly),
	}
	for _, t := range r.Assembly.Taken {
		d.Readings = append(d.Readings, ReadingData{Layer: t.Layer, Date: t.Date, What: t.What, Before: t.Before})
	}
	for _, v := range r.Variants {
		vd := VariantData{Facts: m.factsData(v.Facts)}
		for _, s := range v.Of.Settled {
			vd.Settled = append(vd.Settled, r.Assembly.Doubts[s.Doubt].Where+": "+s.Choice)
		}
		for _, l := range v.Layers {
			vd.Layers = append(vd.Layers, LayerData{Name: l.Part.Name, Facts: m.factsData(l.Facts)})
		}
		d.Variants = append(d.Variants, vd)
	}
	for _, a := range r.Assumptions {
		d.Assumptions = append(d.Assumptions, AssumptionData{ID: a.ID, Text: a.Text, Source: basisData(a.Basis)})
	}
	return d
}

func sides(a *assembly.Assembly) []string {
	return []string{string(a.Between[0]), string(a.Between[1])}
}

func (m Maker) factsData(facts analysis.Facts) map[string]FactData {
	out := make(map[string]FactData, len(facts))
	for id, e := range facts {
		if f := m.Base.Fact(id); f != nil {
			out[id] = factData(f, e)
		}
	}
	return out
}

func factData(f *kb.Fact, e analysis.Estimate) FactData {
	d := FactData{
		Known: e.Known, Missing: e.Missing, Words: e.Words, Mixed: e.Mixed, Evidence: e.Evidence,
		Minor: e.Minor, Model: f.Model, Warnings: e.Warnings,
	}
	switch {
	case e.Known && f.Type == "quantity":
		n := number3(e.Range, f.Dimension)
		d.Number = &n
	case e.Known && f.Type == "flag":
		flag := e.Flag
		d.Flag = &flag
	}
	for _, x := range e.Drivers {
		d.Drivers = append(d.Drivers, DriverData{
			Input: inputData(x.Input),
			Moves: number3(quantity.Range{Low: min(x.Low, x.High), Best: e.Range.Best, High: max(x.Low, x.High)}, f.Dimension),
		})
	}
	for _, in := range e.Inputs {
		d.Inputs = append(d.Inputs, inputData(in))
	}
	return d
}

func number3(r quantity.Range, dim quantity.Dimension) NumberData {
	return NumberData{Low: r.Low, Best: r.Best, High: r.High, Unit: dim.Unit()}
}

func inputData(in analysis.Input) InputData {
	d := InputData{Layer: in.Layer, Material: in.Material, Property: in.Property}
	if in.Value != nil {
		d.Source, d.Locator, d.Evidence = in.Value.Source, in.Value.Locator, in.Value.Mark()
	}
	return d
}

func dryingData(v *analysis.Variant) []DryingData {
	var list []DryingData
	for _, s := range v.Detail.Layers {
		if !s.Known {
			continue
		}
		add := func(season string, known bool, out, in quantity.Range) {
			if known {
				o, i := number3(out, quantity.VaporFlow), number3(in, quantity.VaporFlow)
				list = append(list, DryingData{Layer: v.Layers[s.Part].Part.Name, Season: season, Outward: &o, Inward: &i})
			}
		}
		add("heating", s.Outward.HeatingKnown, s.Outward.Heating, s.Inward.Heating)
		add("cooling", s.Outward.CoolingKnown, s.Outward.Cooling, s.Inward.Cooling)
		add("year", true, s.Outward.Year, s.Inward.Year)
	}
	return list
}

func basisData(b kb.Basis) BasisData {
	return BasisData{Source: b.Source, Locator: b.Locator, Evidence: b.Evidence}
}

func findingsData(list []rule.Finding) []FindingData {
	out := make([]FindingData, len(list))
	for i, f := range list {
		d := FindingData{
			Rule: f.Rule, Title: f.Title, Kind: string(f.Kind), Level: string(f.Level), Verdict: f.Verdict, Layer: f.Layer,
			Say: f.Say, Why: f.Why, Left: f.Left, Settle: f.Settle, Decider: f.Decider, Cautions: f.Cautions, Evidence: f.Mark,
			Because: reasonsData(f.Because),
		}
		if f.Hinge != nil {
			d.Flip = f.Hinge.Flip
			for _, t := range f.Hinge.Turns {
				d.Turns = append(d.Turns, TurnData{At: t.At, Answer: t.Answer, Value: t.Value})
			}
		}
		d.Rows = rowsData(f.Rows)
		for _, b := range f.Basis {
			d.Sources = append(d.Sources, basisData(b))
		}
		out[i] = d
	}
	return out
}

func reasonsData(list []rule.Reason) []ReasonData {
	var out []ReasonData
	for _, r := range list {
		out = append(out, ReasonData{Fact: r.Fact, Layer: r.Layer, Text: r.Text, Verdict: r.Verdict, Evidence: r.Mark})
	}
	return out
}

func cautionsData(list []rule.Caution) []CautionData {
	out := make([]CautionData, len(list))
	for i, c := range list {
		out[i] = CautionData{ID: c.Caution.ID, Title: c.Caution.Title, Say: c.Caution.Say, Ask: c.Caution.Ask, For: c.For, Certain: c.Certain}
	}
	return out
}
