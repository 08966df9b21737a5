package report

import (
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// HourlyData is what stands behind hourly runs.
type HourlyData struct {
	Weather string    `json:"weather"`
	Notes   []string  `json:"notes"`
	Runs    []RunData `json:"runs"`
}

// RunData is one hourly run.
type RunData struct {
	Variant     int     `json:"variant"`
	Corner      string  `json:"corner"`
	Converged   bool    `json:"converged"`
	Hours       int     `json:"hours"`
	MassBalance float64 `json:"mass-balance"` // error as a share of the throughput
	HeatBalance float64 `json:"heat-balance"`
}

// VerifiedData is what hourly runs make of a proposal.
type VerifiedData struct {
	Verdict kb.Verdict     `json:"verdict"`
	Because []string       `json:"because,omitempty"`
	Leak    []LeakTimeData `json:"leak,omitempty"`
}

// LeakTimeData is how long the assembly takes to dry after the default leak.
type LeakTimeData struct {
	Season string   `json:"season"`
	What   string   `json:"what"` // wood or layers
	Before SpanData `json:"before"`
	After  SpanData `json:"after"`
}

// verifiedData gives what hourly runs make of a proposal.
func verifiedData(v *swap.Verified) *VerifiedData {
	d := &VerifiedData{Verdict: v.Verdict, Because: v.Because}
	for _, x := range v.Leak {
		what := "layers"
		if x.Wood {
			what = "wood"
		}
		d.Leak = append(d.Leak, LeakTimeData{Season: x.Season, What: what, Before: spanData(x.Before), After: spanData(x.After)})
	}
	return d
}

// LeakData is a leak into one assembly.
type LeakData struct {
	Assembly    string              `json:"assembly"`
	Missing     string              `json:"missing,omitempty"`
	Layer       string              `json:"layer"`
	Face        string              `json:"face"`
	Amount      float64             `json:"amount"` // kg/m²
	Over        float64             `json:"over"`   // h
	RainShare   float64             `json:"rain-share"`
	Cases       []LeakCaseData      `json:"cases"`
	Choices     []LeakChoiceData    `json:"choices,omitempty"`
	NotRun      int                 `json:"combinations-not-run,omitempty"`
	Deciders    []LeakDeciderData   `json:"deciders,omitempty"`
	Facts       map[string]FactData `json:"facts"`
	Hourly      *HourlyData         `json:"hourly"`
	Warnings    []string            `json:"warnings"`
	Assumptions []AssumptionData    `json:"assumptions"`
}

// LeakChoiceData is a leak into another variant than the first.
type LeakChoiceData struct {
	Settled string         `json:"settled"`
	Missing string         `json:"missing,omitempty"`
	Cases   []LeakCaseData `json:"cases,omitempty"`
}

// LeakDeciderData is the doubt that moves the drying time of a case most.
type LeakDeciderData struct {
	On    string   `json:"on"`
	Doubt string   `json:"doubt"`
	Fast  string   `json:"fast"`
	Slow  string   `json:"slow"`
	Short SpanData `json:"short"`
	Long  SpanData `json:"long"`
}

// LeakCaseData is one wetting; amounts in kg/m², times in s.
type LeakCaseData struct {
	On       string         `json:"on"`
	Season   string         `json:"season"`
	Supplied NumberData     `json:"supplied"`
	Kept     NumberData     `json:"kept"`
	Peak     NumberData     `json:"peak"`
	Residual NumberData     `json:"residual"`
	Wood     SpanData       `json:"wood-dry"`
	Dry      SpanData       `json:"dry"`
	Outside  NumberData     `json:"outside"`
	Inside   NumberData     `json:"inside"`
	Stored   NumberData     `json:"stored"`
	Drained  NumberData     `json:"drained"`
	Faces    []LeakFaceData `json:"faces"`
	Layers   []LeakWetData  `json:"layers"`
}

// SpanData is a time that may not come within the year that is followed.
type SpanData struct {
	Applies bool       `json:"applies"`
	Within  bool       `json:"within"` // at every corner
	Ever    bool       `json:"ever"`   // at some corner
	Best    bool       `json:"best"`   // with the best values
	Time    NumberData `json:"time"`   // a year where it does not come
}

// LeakFaceData is the mold index of a face.
type LeakFaceData struct {
	Layer   string     `json:"layer"`
	Face    string     `json:"face"`
	Limit   float64    `json:"limit"`
	Wetted  bool       `json:"wetted"`
	With    NumberData `json:"with"`
	Without NumberData `json:"without"`
}

// LeakWetData is the water of a layer.
type LeakWetData struct {
	Layer    string      `json:"layer"`
	Peak     NumberData  `json:"peak"`
	Moisture *NumberData `json:"wood-moisture,omitempty"`
}

// hourlyData gives what stands behind hourly runs, nil for none.
func hourlyData(h *analysis.HourlyResult) *HourlyData {
	if h == nil {
		return nil
	}
	d := &HourlyData{Weather: h.Weather, Notes: h.Notes}
	for _, r := range h.Runs {
		d.Runs = append(d.Runs, RunData(r))
	}
	return d
}

// LeakData gives the results of leaks.
func (m Maker) LeakData(list []*analysis.LeakResult) []LeakData {
	out := make([]LeakData, len(list))
	for i, r := range list {
		d := LeakData{
			Assembly: r.Assembly.Name, Missing: r.Missing, Layer: r.Variant.Layers[r.Wetted].Name, Face: string(r.Face),
			Amount: r.Amount, Over: r.Over, RainShare: r.Share, Facts: m.factsData(r.Facts),
			Hourly: hourlyData(&r.Hourly), Warnings: r.Warnings,
		}
		for k := range r.Cases {
			d.Cases = append(d.Cases, leakCaseData(r.Variant, &r.Cases[k]))
		}
		d.choices(r)
		for _, a := range r.Assumptions {
			d.Assumptions = append(d.Assumptions, AssumptionData{ID: a.ID, Text: a.Text, Source: basisData(a.Basis)})
		}
		out[i] = d
	}
	return out
}

// choices adds what the doubts make of a leak.
func (d *LeakData) choices(r *analysis.LeakResult) {
	d.NotRun = r.NotRun
	for _, c := range r.Choices {
		x := LeakChoiceData{Settled: choiceWords(r.Assembly, c.Variant), Missing: c.Missing}
		for k := range c.Cases {
			x.Cases = append(x.Cases, leakCaseData(c.Variant, &c.Cases[k]))
		}
		d.Choices = append(d.Choices, x)
	}
	for _, x := range r.Deciders {
		d.Deciders = append(d.Deciders, LeakDeciderData{
			On: r.Cases[x.Case].On.String(), Doubt: r.Assembly.Doubts[x.Doubt].Where, Fast: x.Fast, Slow: x.Slow,
			Short: spanData(x.Short), Long: spanData(x.Long),
		})
	}
}

func leakCaseData(v *assembly.Variant, c *analysis.LeakCase) LeakCaseData {
	area := func(x quantity.Range) NumberData { return number3(x, quantity.AreaDensity) }
	d := LeakCaseData{
		On: c.On.String(), Season: c.Season, Supplied: area(c.Supplied), Kept: area(c.Kept), Peak: area(c.Peak),
		Residual: area(c.Residual), Wood: spanData(c.Wood), Dry: spanData(c.Dry), Outside: area(c.Outside),
		Inside: area(c.Inside), Stored: area(c.Stored), Drained: area(c.Drained),
	}
	for _, s := range c.Spots {
		face := "outer"
		if s.Side > 0 {
			face = "inner"
		}
		d.Faces = append(d.Faces, LeakFaceData{
			Layer: v.Layers[s.Part].Name, Face: face, Limit: s.Limit, Wetted: s.Wetted,
			With: number3(s.With, quantity.Number), Without: number3(s.Without, quantity.Number),
		})
	}
	for _, p := range c.Parts {
		if !p.Storage {
			continue
		}
		wet := LeakWetData{Layer: v.Layers[p.Part].Name, Peak: area(p.Peak)}
		if p.Wood {
			moisture := number3(p.Moisture, quantity.Ratio)
			wet.Moisture = &moisture
		}
		d.Layers = append(d.Layers, wet)
	}
	return d
}

func spanData(s analysis.Span) SpanData {
	return SpanData{Applies: s.Applies, Within: s.Within, Ever: s.Ever, Best: s.Best, Time: number3(s.Time, quantity.Duration)}
}
