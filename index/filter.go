package index

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"relath/kb"
	"relath/kb/quantity"
)

// Op compares a property with a bound.
type Op string

// The comparisons.
const (
	Over    Op = ">"
	AtLeast Op = ">="
	Under   Op = "<"
	AtMost  Op = "<="
)

// Filter keeps materials by a property. Make one with [ParseFilter].
type Filter struct {
	Property string // id in the glossary of properties
	Op       Op
	Bound    float64 // in the SI unit of the property's dimension
	Written  string  // the bound as written: "5 perm"
	Method   string  // dry-cup or wet-cup; empty: whatever is best known, over all humidities
}

// String writes the filter: "permeance > 5 perm".
func (f Filter) String() string {
	return strings.TrimSpace(fmt.Sprintf("%s %s %s %s", f.Property, f.Op, f.Written, f.Method))
}

// InputError says what is wrong with a part of a query, and where.
type InputError struct {
	Part    string // filter, duty, kind, family, sort
	Text    string // as written
	Column  int    // in characters from 1; 0 where the whole text is meant
	Message string
	Hint    string // what is allowed, or what was probably meant
}

// Error gives part, text, place, message and hint on one line.
func (e *InputError) Error() string {
	s := fmt.Sprintf("%s %q", e.Part, e.Text)
	if e.Column > 0 {
		s += fmt.Sprintf(", column %d", e.Column)
	}
	s += ": " + e.Message
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}

// comparisons lists how a comparison is written; longer spellings come first.
func comparisons() []struct {
	written string
	op      Op
} {
	return []struct {
		written string
		op      Op
	}{
		{">=", AtLeast},
		{"=>", AtLeast},
		{"≥", AtLeast},
		{"at least ", AtLeast},
		{"<=", AtMost},
		{"=<", AtMost},
		{"≤", AtMost},
		{"at most ", AtMost},
		{">", Over},
		{"over ", Over},
		{"above ", Over},
		{"more than ", Over},
		{"<", Under},
		{"under ", Under},
		{"below ", Under},
		{"less than ", Under},
	}
}

// maxFilter is the number of bytes above which a text is no filter.
const maxFilter = 200

// ParseFilter reads a property, a comparison and a quantity with its unit:
// "permeance > 5 perm", "adhesive-share <= 2 %", "permeance >= 1 perm wet". A
// vapor property may name the cup, dry or wet. Where property is given the text
// holds only the rest: ">5 perm". The property is named by its id, its title or
// a synonym. The error is an [*InputError].
func ParseFilter(base *kb.Base, property, text string) (Filter, error) {
	p := filterText{base: base, text: text}
	if len(text) > maxFilter || !utf8.ValidString(text) {
		return Filter{}, p.fail(0, "the text is no filter", hintForm)
	}
	at, length, op := findComparison(text, property == "")
	if at < 0 {
		return Filter{}, p.fail(0, "a comparison is missing", hintForm)
	}
	named, start := property, at
	if property == "" {
		named, start = strings.TrimSpace(text[:at]), firstLetter(text, 0)
	} else if strings.TrimSpace(text[:at]) != "" {
		return Filter{}, p.fail(firstLetter(text, 0), "a comparison comes first", hintForm)
	}
	about, err := p.property(named, start)
	if err != nil {
		return Filter{}, err
	}
	f := Filter{Property: about.ID, Op: op}
	return f, p.bound(&f, about, at+length)
}

const hintForm = `write it like "permeance > 5 perm"`

// filterText is a filter while it is read.
type filterText struct {
	base *kb.Base
	text string
}

// fail makes an error at a byte of the text; -1 stands for the whole text.
func (p filterText) fail(at int, message, hint string) error {
	e := &InputError{Part: "filter", Text: p.text, Message: message, Hint: hint}
	if at >= 0 && utf8.ValidString(p.text) && len(p.text) <= maxFilter {
		e.Column = utf8.RuneCountInString(p.text[:at]) + 1
	}
	return e
}

// firstLetter gives the place of the first byte from a place on that is no space.
func firstLetter(text string, from int) int {
	return len(text) - len(strings.TrimLeft(text[from:], " \t"))
}

// findComparison finds the first comparison; a comparison in words stands after
// a space, or at the start of a text without the property.
func findComparison(text string, named bool) (at, length int, op Op) {
	at = -1
	for _, c := range comparisons() {
		i := strings.Index(text, c.written)
		word := c.written[len(c.written)-1] == ' '
		if word && i >= 0 && (i > 0 && text[i-1] != ' ' || i == 0 && named) {
			continue
		}
		if i >= 0 && (at < 0 || i < at) {
			at, length, op = i, len(c.written), c.op
		}
	}
	return at, length, op
}

// property finds the property that a filter names.
func (p filterText) property(named string, at int) (*kb.Property, error) {
	if named == "" {
		return nil, p.fail(at, "a property is missing", hintForm)
	}
	if found := findProperty(p.base, named); found != nil {
		return found, nil
	}
	hint := "`explain` lists the properties"
	if meant := quantity.Suggest(named, propertyNames(p.base)); meant != "" {
		hint = fmt.Sprintf("did you mean %q?", meant)
	}
	return nil, p.fail(at, fmt.Sprintf("%q is not a property", named), hint)
}

// findProperty finds a property by id, title or synonym, or gives nil.
func findProperty(base *kb.Base, named string) *kb.Property {
	if about := base.Property(named); about != nil {
		return about
	}
	l := newLanguage(base)
	words := l.words(named)
	group := l.groups[l.joined(words)]
	var synonym *kb.Property
	for _, about := range base.Properties {
		for _, name := range []string{about.ID, about.Title} {
			own := l.words(name)
			if len(words) > 0 && slices.Equal(own, words) {
				return about
			}
			if synonym == nil && group != "" && l.groups[l.joined(own)] == group {
				synonym = about
			}
		}
	}
	return synonym
}

func propertyNames(base *kb.Base) []string {
	var all []string
	for _, about := range base.Properties {
		all = append(all, about.ID)
	}
	return all
}

// bound reads the quantity and the cup that follow the comparison.
func (p filterText) bound(f *Filter, about *kb.Property, from int) error {
	at := firstLetter(p.text, from)
	written := strings.TrimSpace(p.text[from:])
	quantityText, method := cutMethod(written)
	if method != "" && !hasCups(about.Dimension) {
		return p.fail(at, fmt.Sprintf("%s has no dry or wet cup", about.ID), "leave it out")
	}
	v, err := quantity.Parse(quantityText, about.Dimension)
	if err != nil {
		message, hint := err.Error(), ""
		if q, ok := err.(*quantity.ParseError); ok {
			message, hint = q.Message, q.Hint
		}
		return p.fail(at, message, hint)
	}
	f.Bound, f.Written, f.Method = v, quantityText, method
	return nil
}

// cutMethod takes the cup from the end of a bound.
func cutMethod(text string) (rest, method string) {
	for _, c := range []struct{ written, method string }{
		{"dry-cup", kb.DryCup},
		{"dry cup", kb.DryCup},
		{"dry", kb.DryCup},
		{"wet-cup", kb.WetCup},
		{"wet cup", kb.WetCup},
		{"wet", kb.WetCup},
	} {
		if rest, ok := strings.CutSuffix(text, " "+c.written); ok {
			return strings.TrimSpace(rest), c.method
		}
	}
	return text, ""
}

// hasCups says whether values of the dimension are measured by the dry or the wet cup.
func hasCups(d quantity.Dimension) bool {
	return slices.Contains([]quantity.Dimension{
		quantity.Permeance, quantity.Permeability, quantity.EquivalentAirLayer, quantity.VaporResistance, quantity.VaporResistanceFactor,
	}, d)
}

// Outcome says how far a filter holds over the range of a value.
type Outcome string

// The outcomes.
const (
	Surely   Outcome = "surely"   // over the whole range
	Possibly Outcome = "possibly" // over part of it
	Fails    Outcome = "fails"    // nowhere in it
	NoData   Outcome = "no-data"  // the base knows no value
)

// judge applies the filter to the range of a value.
func (f Filter) judge(r quantity.Range) Outcome {
	low, high := f.holds(r.Low), f.holds(r.High)
	switch {
	case low && high:
		return Surely
	case low || high:
		return Possibly
	}
	return Fails
}

func (f Filter) holds(v float64) bool {
	switch f.Op {
	case Over:
		return v > f.Bound
	case AtLeast:
		return v >= f.Bound
	case Under:
		return v < f.Bound
	}
	return v <= f.Bound
}
