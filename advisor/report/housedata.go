package report

import (
	"relath/advisor/analysis"
	"relath/advisor/house"
	"relath/kb"
	"relath/kb/quantity"
)

// HouseData is a house as a whole.
type HouseData struct {
	Order         []string         `json:"order"`     // assemblies, the worst first
	Questions     []QuestionData   `json:"questions"` // that the code leaves open
	Adhesive      HeldData         `json:"adhesive"`
	CavityFood    HeldData         `json:"cavity-food"`
	RoomFood      HeldData         `json:"room-food"`
	RegulatedArea AmountData       `json:"regulated-area"`
	Pieces        int              `json:"regulated-pieces"`
	Trim          NumberData       `json:"regulated-trim"`
	Buffering     AmountData       `json:"buffering"` // for humidity from 0 to 1
	Rooms         []RoomData       `json:"rooms,omitempty"`
	Cold          []ColdData       `json:"cold-surfaces,omitempty"`
	Weather       string           `json:"weather,omitempty"` // the hourly year of the cold surfaces
	Assumptions   []AssumptionData `json:"assumptions"`
	Warnings      []string         `json:"warnings"`
}

// QuestionData is a code question of an assembly.
type QuestionData struct {
	Assembly string     `json:"assembly"`
	Rule     string     `json:"rule"`
	Verdict  kb.Verdict `json:"verdict"`
	Settle   string     `json:"settle,omitempty"`
}

// AmountData is one amount.
type AmountData struct {
	Known    bool        `json:"known"`
	Missing  string      `json:"missing,omitempty"`
	Number   *NumberData `json:"number,omitempty"`
	Evidence kb.Evidence `json:"evidence,omitempty"`
	Warnings []string    `json:"warnings,omitempty"`
}

// HeldData is an amount over the house and where it lies.
type HeldData struct {
	Sum   AmountData `json:"sum"`
	Items []ItemData `json:"items,omitempty"`
}

// ItemData is a share of an amount.
type ItemData struct {
	Assembly string     `json:"assembly,omitempty"`
	Layer    string     `json:"layer,omitempty"`
	Room     string     `json:"room,omitempty"`
	Part     string     `json:"part,omitempty"`
	Material string     `json:"material"`
	Amount   AmountData `json:"amount"`
}

// RoomData is the air of a room.
type RoomData struct {
	Name     string     `json:"name"`
	Moisture AmountData `json:"moisture"` // in a day
	Bare     AmountData `json:"swing-bare"`
	Buffered AmountData `json:"swing-buffered"`
	Off      AmountData `json:"taken-off"`
}

// ColdData is a cold surface.
type ColdData struct {
	Name    string     `json:"name"`
	Hours   AmountData `json:"hours"` // of a year, below the dew point
	ByMonth []float64  `json:"hours-by-month"`
	Needed  AmountData `json:"insulation-needed"`
	Flat    AmountData `json:"thickness-flat"`
	Round   AmountData `json:"thickness-round"`
}

// HouseData gives the results for a house as a whole.
func (m Maker) HouseData(r *house.Result) HouseData {
	d := HouseData{
		Adhesive: heldData(r.Glue, quantity.Mass), CavityFood: heldData(r.CavityFood, quantity.Area), RoomFood: heldData(r.RoomFood, quantity.Area),
		RegulatedArea: estimateData(r.Regulated.Area, quantity.Area), Pieces: r.Regulated.Pieces,
		Trim:      number3(quantity.Exact(r.Regulated.Length), quantity.Length),
		Weather:   r.Weather,
		Buffering: estimateData(r.Buffering.Sum, quantity.Mass), Warnings: r.Warnings,
	}
	for _, s := range r.Order {
		d.Order = append(d.Order, s.Assembly)
	}
	for _, q := range r.Questions {
		d.Questions = append(d.Questions, QuestionData{Assembly: q.Assembly, Rule: q.Finding.ID, Verdict: q.Finding.Verdict, Settle: q.Finding.Settle})
	}
	for _, a := range r.Assumptions {
		d.Assumptions = append(d.Assumptions, AssumptionData{ID: a.ID, Text: a.Text, Source: basisData(a.Basis)})
	}
	for i := range r.Rooms {
		x := &r.Rooms[i]
		d.Rooms = append(d.Rooms, RoomData{
			Name: x.Of.Room.Name.Value, Moisture: estimateData(x.Moisture, quantity.Mass), Bare: estimateData(x.Swing.Bare, quantity.Ratio),
			Buffered: estimateData(x.Swing.Buffered, quantity.Ratio), Off: estimateData(x.Swing.Off, quantity.Ratio),
		})
	}
	for i := range r.Cold {
		d.Cold = append(d.Cold, coldData(&r.Cold[i]))
	}
	return d
}

func coldData(c *house.Cold) ColdData {
	return ColdData{
		Name: c.Of.Surface.Name.Value, Hours: estimateData(c.Hours, quantity.Number), ByMonth: c.ByMonth[:],
		Needed: estimateData(c.Needed, quantity.ThermalResistance), Flat: estimateData(c.Flat, quantity.Length), Round: estimateData(c.Round, quantity.Length),
	}
}

func heldData(h house.Holdings, dim quantity.Dimension) HeldData {
	d := HeldData{Sum: estimateData(h.Sum, dim)}
	for _, i := range h.Items {
		d.Items = append(d.Items, ItemData{
			Assembly: i.Where.Assembly, Layer: i.Where.Layer, Room: i.Where.Room, Part: i.Where.Part,
			Material: i.Material.ID, Amount: estimateData(i.Amount, dim),
		})
	}
	return d
}

func estimateData(e analysis.Estimate, dim quantity.Dimension) AmountData {
	d := AmountData{Known: e.Known, Missing: e.Missing, Evidence: e.Evidence, Warnings: e.Warnings}
	if e.Known {
		n := number3(e.Range, dim)
		d.Number = &n
	}
	return d
}
