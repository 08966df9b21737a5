package report

import (
	"relath/advisor/rule"
	"relath/kb"
)

// ToMeasureData is a measurement that is worth its while.
type ToMeasureData struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Layers  []string `json:"layers,omitempty"`
	Decides []string `json:"decides,omitempty"`
	Checks  []string `json:"checks,omitempty"`
	Narrows []string `json:"narrows,omitempty"`
	Do      string   `json:"do"`
	Takes   string   `json:"takes"`
	Means   []string `json:"means"`
	Enter   string   `json:"enter,omitempty"`
	Turns   []ToldBy `json:"turns,omitempty"`
}

// ToldBy is a finding that a measurement answers by itself, and where it turns.
type ToldBy struct {
	Finding string `json:"finding"`
	At      string `json:"at"`
}

// ReadingData is a reading on site.
type ReadingData struct {
	Layer  string `json:"layer"`
	Date   string `json:"date"`
	What   string `json:"what"`
	Before string `json:"before,omitempty"` // what the description left open
}

// TurnData is the answer of a finding at one setting of what decides it.
type TurnData struct {
	At     string     `json:"at"`
	Answer kb.Verdict `json:"answer"`
	Value  string     `json:"value,omitempty"`
}

func toMeasureData(list []rule.Measure) []ToMeasureData {
	var out []ToMeasureData
	for _, m := range list {
		d := ToMeasureData{
			ID: m.Of.ID, Title: m.Of.Title, Layers: m.Layers, Decides: m.Decides, Checks: m.Checks, Narrows: m.Narrows,
			Do: m.Of.Do, Takes: m.Of.Takes, Means: m.Of.Means, Enter: entered(m.Of, m.Layers),
		}
		for _, x := range m.Reads {
			d.Turns = append(d.Turns, ToldBy{x.Title, x.Hinge.Flip})
		}
		out = append(out, d)
	}
	return out
}
