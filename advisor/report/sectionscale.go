package report

import (
	"fmt"
	"math"

	"relath/advisor/drawing"
	"relath/kb/quantity"
)

// The sheet of a section, mm.
const (
	sheetWidth  = 180.0
	sheetMargin = 2.0
	mostAcross  = 76.0 // of a wall
	mostHigh    = 110.0
	mostJanuary = 70.0
	mostAlong   = 96.0  // of a floor or roof
	mostBay     = 105.0 // of a wall, from member to member
	leastAlong  = 46.0
	lineSlot    = 1.5 // what a sheet or the coats of a face take on the drawing
	leastDrawn  = 0.9 // of a layer that has a thickness

	// A small section, half a sheet wide.
	smallWidth  = 88.0
	smallAcross = 31.0
	smallAlong  = 22.0
)

// scale is how many millimeters of the building one millimeter of the sheet
// is, with its name.
type scale struct {
	of   float64
	name string
}

// scales lists those that builders and draftsmen use.
func scales(u quantity.System) []scale {
	if u == quantity.InchPound {
		return []scale{
			{2, "1:2, 6 in for a foot"},
			{4, "1:4, 3 in for a foot"},
			{6, "1:6, 2 in for a foot"},
			{8, "1:8, 1-1/2 in for a foot"},
			{12, "1:12, 1 in for a foot"},
			{24, "1:24, 1/2 in for a foot"},
		}
	}
	return []scale{{2, "1:2"}, {5, "1:5"}, {10, "1:10"}, {20, "1:20"}}
}

// strip is what one layer or the coats of one face take of the section.
type strip struct {
	layer    int // in cutting.layers
	from, to float64
	coats    bool // the line of coats
	sheet    bool // the line of a layer without thickness
	scaled   bool // drawn as thick as it is
}

// measure chooses the scale and lays the strips one behind the other.
func (s *cutting) measure() {
	most, bay := mostAcross, mostBay
	if !s.upright {
		most, bay = mostHigh+3*float64(max(0, len(s.layers)-manyLayers)), mostAlong-26
		if s.over.January {
			most = mostJanuary
		}
	}
	if s.over.Small != nil {
		most, bay = smallAcross, math.Inf(1)
	}
	list := scales(s.Units)
	for _, x := range list {
		s.scale = x
		if s.lay(); s.thickness() <= most && s.spacing() <= bay {
			return
		}
	}
	// Thicker than anything of a house: still to scale, as long as it is.
	s.scale = list[len(list)-1]
	for s.thickness() > most {
		s.scale.of *= 2
		s.scale.name = fmt.Sprintf("1:%g", s.scale.of)
		before := s.thickness()
		if s.lay(); s.thickness() >= before {
			return // nothing but lines
		}
	}
}

// spacing gives the widest spacing of framing on the sheet.
func (s *cutting) spacing() float64 {
	widest := 0.0
	for _, l := range s.layers {
		if l.part.Framed && !s.fill {
			widest = max(widest, s.drawn(l.part.Spacing))
		}
	}
	return widest
}

// drawn gives the length on the sheet of a length of the building in meters.
func (s *cutting) drawn(v float64) float64 { return 1000 * v / s.scale.of }

func (s *cutting) thickness() float64 {
	if len(s.strips) == 0 {
		return 0
	}
	return s.strips[len(s.strips)-1].to
}

// lay lays the strips from the first drawn face on.
func (s *cutting) lay() {
	s.strips = nil
	for i, l := range s.layers {
		before, behind := len(l.part.CoatsOut) > 0, len(l.part.CoatsIn) > 0
		if s.turned {
			before, behind = behind, before
		}
		if before {
			s.put(strip{layer: i, coats: true}, lineSlot)
		}
		switch d := s.drawn(l.part.Depth); {
		case l.part.Depth == 0:
			s.put(strip{layer: i, sheet: true}, lineSlot)
		case d < leastDrawn:
			s.put(strip{layer: i}, leastDrawn)
		default:
			s.put(strip{layer: i, scaled: true}, d)
		}
		if behind {
			s.put(strip{layer: i, coats: true}, lineSlot)
		}
	}
}

func (s *cutting) put(x strip, width float64) {
	x.from = s.thickness()
	x.to = x.from + width
	s.strips = append(s.strips, x)
}

// own gives the strip of a layer itself.
func (s *cutting) own(layer int) strip {
	for _, x := range s.strips {
		if x.layer == layer && !x.coats {
			return x
		}
	}
	return strip{}
}

// box gives the place of a strip on the sheet.
func (s *cutting) box(x strip) drawing.Box {
	f := s.frame
	if s.upright {
		return drawing.Box{X0: f.X0 + x.from, Y0: f.Y0, X1: f.X0 + x.to, Y1: f.Y1}
	}
	return drawing.Box{X0: f.X0, Y0: f.Y0 + x.from, X1: f.X1, Y1: f.Y0 + x.to}
}
