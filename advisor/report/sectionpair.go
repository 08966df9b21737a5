package report

import (
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/drawing"
)

// placeSmall fixes the frame of the layers of a small section and lays out its
// labels. It gives the column of labels.
func (s *cutting) placeSmall() float64 {
	const head = 10.5
	s.picture.Width = smallWidth
	s.frame.X0 = sheetMargin + 12 // the word for the first side stands before it
	if s.grade {
		s.frame.X0 += 6
	}
	s.frame.X1 = s.frame.X0 + smallAcross
	column := s.frame.X1 + 8
	if s.upright {
		s.frame.X1 = s.frame.X0 + s.thickness()
		column = s.frame.X1 + 5
	}
	total := s.wrapLabels(smallWidth - sheetMargin - column)
	s.frame.Y0, s.frame.Y1 = head, head+max(total, smallAlong)
	if !s.upright {
		s.frame.Y0 += max(0, max(total, smallAlong)-s.thickness()) / 2
		s.frame.Y1 = s.frame.Y0 + s.thickness()
	}
	s.spreadLabels(column, head, max(s.frame.Y1, head+total))
	s.picture.Height = max(s.frame.Y1, head+total) + 1
	if !s.upright {
		s.picture.Height = max(s.picture.Height, s.under()+5)
	}
	return column
}

// pairCut draws an assembly before and after a plan beside each other, small and
// to one scale. What comes off and what is new has a star.
func (p *page) pairCut(x *Plan) *drawing.Picture {
	before, after := partsOf(x.Before), partsOf(x.After)
	kept := keptParts(before, after)
	stays := make(map[*assembly.Part]bool)
	for i, at := range kept {
		if at >= 0 {
			stays[before[i]], stays[after[at]] = true, true
		}
	}
	name := func(part *assembly.Part) (string, bool) {
		if stays[part] {
			return shortName(part), false
		}
		return shortName(part) + " *", true
	}
	over := Overlay{Small: name, Beside: []*analysis.Result{x.Before, x.After}}
	over.Title = "today"
	left := p.Section(x.Before, over)
	over.Title = "then"
	right := p.Section(x.After, over)
	return side(x.After.Assembly.Name, left, right)
}

// side puts two small sections beside each other under their words.
func side(name string, left, right *drawing.Picture) *drawing.Picture {
	at := sheetWidth - smallWidth
	both := &drawing.Picture{
		Width: sheetWidth, Height: max(left.Height, right.Height), Title: "Sections of " + name + ", today and then",
		About: "Left, today. " + left.About + " Right, then. " + right.About,
	}
	both.Place(left, 0, 0)
	both.Place(right, at, 0)
	both.Add(titleOf("Today", 0), titleOf("Then", at))
	return both
}

// titleOf writes a word above a small section that begins at x.
func titleOf(word string, x float64) drawing.Item {
	return drawing.Item{Words: &drawing.Words{At: drawing.At(x+sheetMargin+1, 3.2), Text: word, Size: headSize, Bold: true, Ink: drawing.Full}}
}

// shortName says what a part is in the words that a drawing has room for.
func shortName(part *assembly.Part) string {
	words := madeOf(part)
	if part.Framed {
		words = fillWords(part)
	}
	words, _, _ = strings.Cut(words, ",")
	return capital(words)
}
