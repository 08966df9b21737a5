package house

import (
	"math"
	"math/cmplx"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/moistair"
	"relath/kb"
	"relath/kb/quantity"
)

// The daily cycle of the moisture buffer value.
const (
	dayLength    = 86400.0 // s
	bufferTestAt = 23.0    // °C (Nordtest protocol, recalled)
)

// effusivity returns the moisture effusivity in kg/(m²·Pa·s^0.5) of a thick
// face whose moisture buffer value, in kg/m² for the whole range of humidity, is
// given: MBV = 0.568·p_sat·b·√t_p with the day as period (Rode and others,
// Nordtest 2005, recalled). The form is that of the ideal value; a measured one
// holds the air film of the test, so that the film is not counted again.
func effusivity(buffer float64) float64 {
	const ideal = 0.568
	return buffer / (ideal * moistair.SaturationPressureOverWater(bufferTestAt) * math.Sqrt(dayLength))
}

// admittance is the vapor flow into a face of an effusivity behind coats of a
// vapor resistance in s·m²·Pa/kg, per vapor pressure at the circular frequency
// in 1/s: 1/(Z + 1/(b·√(iω))), the periodic solution of diffusion in a
// half-space behind a resistance.
func admittance(b, coats, omega float64) complex128 {
	if b <= 0 {
		return 0
	}
	face := complex(b, 0) * cmplx.Sqrt(complex(0, omega))
	return 1 / (complex(coats, 0) + 1/face)
}

// coatedBuffer returns the moisture buffer value that is left behind coats of a
// vapor resistance in s·m²·Pa/kg: the bare value times the share of the daily
// flow that still enters. Conventional paint on lime and clay was measured to
// take 61 to 69 % away (Latif and others 2015).
func coatedBuffer(bare, coats float64) float64 {
	b := effusivity(bare)
	if b <= 0 {
		return 0
	}
	const omega = 2 * math.Pi / dayLength
	return bare * cmplx.Abs(admittance(b, coats, omega)/admittance(b, 0, omega))
}

// Buffering is what the faces toward rooms take up and give off in the course
// of a day.
type Buffering struct {
	Sum   analysis.Estimate // kg of water for the whole range of humidity from 0 to 1
	Faces []Face
}

// Face is one face toward a room.
type Face struct {
	Where    Where
	Material *kb.Material
	Area     float64           // m²
	Bare     quantity.Range    // moisture buffer value without coats, kg/m² for the whole range
	Coats    quantity.Range    // vapor resistance of the coats, s·m²·Pa/kg
	Buffer   analysis.Estimate // kg of water for the whole range, behind the coats
}

// buffering gives the faces toward rooms: area times the moisture buffer value
// behind the coats. Faces without a buffer value in the base are named and count
// as none.
func (s *Study) buffering(results []*analysis.Result) Buffering {
	var out Buffering
	for _, r := range results {
		if len(r.Variants) == 0 {
			continue
		}
		layers := r.Variants[0].Of.Layers
		if roomAir(r.Assembly.Between[1]) {
			out.Faces = append(out.Faces, s.assemblyFace(r, layers[len(layers)-1], false))
		}
		if roomAir(r.Assembly.Between[0]) {
			out.Faces = append(out.Faces, s.assemblyFace(r, layers[0], true))
		}
	}
	for i := range s.house.Finishes {
		f := &s.house.Finishes[i]
		if len(f.Materials) == 0 || f.Area == 0 {
			continue
		}
		p := &assembly.Part{Name: f.Name, Material: f.Materials[0], Depth: analysis.SizeOfFinish(s.base, f, f.Materials[0]).Thickness, CoatsIn: f.Coats}
		face := Face{Where: Where{Room: f.Finish.Room.Value, Part: f.Name}, Material: p.Material, Area: f.Area}
		s.buffered(&face, p, false)
		out.Faces = append(out.Faces, face)
	}
	items := make([]Holding, len(out.Faces))
	for i, f := range out.Faces {
		items[i].Amount = f.Buffer
	}
	out.Sum = sum(items)
	return out
}

func roomAir(side assembly.Side) bool { return side == "room" || side == "wet-room" }

// assemblyFace is one face of an assembly in its first variant.
func (s *Study) assemblyFace(r *analysis.Result, p *assembly.Part, outer bool) Face {
	f := Face{Where: Where{Assembly: r.Assembly.Name, Layer: p.Name}, Area: netArea(r.Assembly)}
	switch {
	case p.Cavity || p.Framed:
		f.Buffer = missing("%s of %s is no face", p.Name, r.Assembly.Name)
	case f.Area <= 0:
		f.Material, f.Buffer = p.Material, missing("the area of %s is not given", r.Assembly.Name)
	default:
		f.Material = p.Material
		s.buffered(&f, p, outer)
	}
	return f
}

// buffered fills in what a face takes up behind its coats.
func (s *Study) buffered(f *Face, p *assembly.Part, outer bool) {
	w, ok := p.Material.Working("buffer-value", kb.AnyMethod, p.Depth)
	if !ok {
		f.Buffer = missing("the base has no moisture buffer value for %s", p.Material.Name)
		return
	}
	t := &trace{}
	t.value(p.Name, p.Material, w)
	coats, lacks := s.coatResistance(t, p, outer)
	if lacks != "" {
		f.Buffer = missing("%s", lacks)
		return
	}
	f.Bare, f.Coats = w.SI, coats
	f.Buffer = t.estimate(quantity.Range{
		Low:  coatedBuffer(w.SI.Low, coats.High) * f.Area,
		Best: coatedBuffer(w.SI.Best, coats.Best) * f.Area,
		High: coatedBuffer(w.SI.High, coats.Low) * f.Area,
	})
	if w.Doubt {
		f.Buffer.Warnings = append(f.Buffer.Warnings, "the moisture buffer value of "+p.Material.Name+" is in doubt")
	}
}

// coatResistance is the vapor resistance of the coats on a face, s·m²·Pa/kg: of
// the coated layer at 50 % humidity less that of the bare one.
func (s *Study) coatResistance(t *trace, p *assembly.Part, outer bool) (z quantity.Range, lacks string) {
	bare, coated := *p, *p
	bare.CoatsIn, bare.CoatsOut = nil, nil
	if outer {
		coated.CoatsIn = nil
	} else {
		coated.CoatsOut = nil
	}
	if len(coated.CoatsIn)+len(coated.CoatsOut) == 0 {
		return z, ""
	}
	with, without := analysis.Coat(s.base, &coated), analysis.Coat(s.base, &bare)
	if with.Missing != "" {
		return z, with.Missing
	}
	if without.Missing != "" {
		return z, without.Missing
	}
	for _, in := range with.Inputs {
		t.inputs = append(t.inputs, in)
		if in.Value != nil {
			t.mark = t.mark.Weaker(in.Value.Mark())
		}
	}
	const tightest = 1e-15 // kg/(s·m²·Pa), as in package steady
	at := func(with, without float64) float64 { return max(0, 1/max(with, tightest)-1/max(without, tightest)) }
	return sorted(at(with.Middle.High, without.Middle.High), at(with.Middle.Best, without.Middle.Best), at(with.Middle.Low, without.Middle.Low)), ""
}
