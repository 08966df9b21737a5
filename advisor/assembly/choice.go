package assembly

import (
	"strings"

	"relath/kb/strict"
)

// None leaves a layer, a fill or a coat out; it is a choice of a doubt.
const None = "none"

// Choice is the id of a material, or a doubt between several:
//
//	material: osb
//	material: {one-of: [nonwoven-house-wrap, asphalt-felt-15, none]}
type Choice struct {
	Pos   strict.Pos
	OneOf []strict.Text // at least one entry when given
}

// choiceForm is how a doubt is written.
type choiceForm struct {
	OneOf []strict.Text `yaml:"one-of,required"`
}

// Pick makes a choice without a doubt.
func Pick(id string) Choice { return Choice{OneOf: []strict.Text{{Value: id}}} }

// IsZero says whether nothing was written.
func (c Choice) IsZero() bool { return len(c.OneOf) == 0 }

// String gives the id, or the choices in words.
func (c Choice) String() string {
	words := make([]string, len(c.OneOf))
	for i, one := range c.OneOf {
		words[i] = one.Value
	}
	return strings.Join(words, " or ")
}

// UnmarshalNode reads a word or a mapping with one-of.
func (c *Choice) UnmarshalNode(v *strict.Value, report strict.Report) {
	c.Pos = v.Pos
	switch v.Kind {
	case strict.Scalar:
		c.OneOf = []strict.Text{{Value: v.Text, Pos: v.Pos}}
	case strict.Mapping:
		var form choiceForm
		v.Decode(&form, report)
		if form.OneOf != nil && len(form.OneOf) < 2 {
			report(v.Pos, "one-of has fewer than two choices", "write the id alone, or list what it may be")
		}
		c.OneOf = form.OneOf
	default:
		report(v.Pos, "expected the id of a material, found a "+v.Kind.String(), "write an id, or {one-of: [id, id, none]}")
	}
}

// MarshalNode writes the choice as it is read.
func (c Choice) MarshalNode() any {
	if len(c.OneOf) == 1 {
		return c.OneOf[0].Value
	}
	return choiceForm{OneOf: c.OneOf}
}
