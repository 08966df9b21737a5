package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// PriceBook holds the user's own prices.
type PriceBook struct {
	Pos      strict.Pos `yaml:",pos"`
	Format   int        `yaml:"format,required"` // 1
	Name     string     `yaml:"name"`
	Invented Invented   `yaml:"invented"` // yes: a demonstration, printed with every figure
	Currency string     `yaml:"currency,required"`
	Prices   []Price    `yaml:"prices,required"`
}

// Invented is yes or no; empty when not given.
type Invented string

// Allowed lists the answers.
func (Invented) Allowed() []string { return []string{"yes", "no"} }

// Price is what one thing costs. Its keys are those of a price in a folder laid
// over the base, and labor beside it.
type Price struct {
	Pos      strict.Pos  `yaml:",pos"`
	Of       strict.Text `yaml:"price,required"` // id of a material, or of one of [Items]
	Costs    strict.Text `yaml:"costs"`          // 0.62, or 0.55 to 0.70
	Labor    strict.Text `yaml:"labor"`          // for the same amount, of the net quantity
	Per      strict.Text `yaml:"per,required"`   // 1 ft2, 100 ft2, 8 ft, 1 gal, 50 lb, board foot, panel, bag or piece
	Complete Invented    `yaml:"complete"`       // yes: fasteners and lath are in it
	From     string      `yaml:"from"`           // quote, list, receipt
	Date     string      `yaml:"date"`

	Kind     Kind           `yaml:"-"`
	Amount   float64        `yaml:"-"` // of the kind, in SI, that Costs and Labor are for
	CostsOf  quantity.Range `yaml:"-"` // in the currency
	LaborOf  quantity.Range `yaml:"-"`
	HasCosts bool           `yaml:"-"`
	HasLabor bool           `yaml:"-"`
}

// The limits of a price book.
const (
	maxPriceBytes = 1 << 20
	maxPrices     = 5000
	highestPrice  = 1e7  // for the amount stated
	leastAmount   = 1e-6 // that a price may be for, in SI
	bookFormat    = 1
)

// ReadPrices reads a price book: YAML, or CSV where the name of the file ends in
// .csv. All problems come at once, each with its place.
func ReadPrices(base *kb.Base, file string, data []byte) (*PriceBook, strict.Problems) {
	if strings.HasSuffix(strings.ToLower(file), ".csv") {
		return readTable(base, file, data)
	}
	book := new(PriceBook)
	doc, problems := strict.Load(file, data, strict.Limits{Bytes: maxPriceBytes}, book)
	if doc == nil {
		return nil, problems
	}
	c := &checker{base: base, doc: doc, problems: problems}
	if book.Format != 0 && book.Format != bookFormat {
		c.report(book.Pos, "format: this program reads format 1", "write format: 1")
	}
	return c.check(book)
}

// checker resolves the prices of a book.
type checker struct {
	base     *kb.Base
	doc      *strict.Document
	problems strict.Problems
	unknown  int // ids that were not found
}

func (c *checker) report(pos strict.Pos, message, hint string) {
	if c.doc != nil {
		c.problems = append(c.problems, c.doc.Problem(pos, message, hint))
		return
	}
	c.problems = append(c.problems, strict.Problem{Pos: pos, Message: message, Hint: hint})
}

// check resolves every price and gives the book when nothing is wrong.
func (c *checker) check(book *PriceBook) (*PriceBook, strict.Problems) {
	if book.Currency != "" && !isCurrency(book.Currency) {
		c.report(book.Pos, fmt.Sprintf("currency %q: three capital letters are needed", clip(book.Currency)), "for example USD")
	}
	if len(book.Prices) > maxPrices {
		c.report(book.Pos, fmt.Sprintf("more than %d prices", maxPrices), "split the book, or leave out what is not bought")
		book.Prices = book.Prices[:maxPrices]
	}
	seen := make(map[string]bool)
	for i := range book.Prices {
		p := &book.Prices[i]
		c.price(p)
		key := p.Of.Value + " " + string(p.Kind)
		if seen[key] && p.Kind != "" {
			c.report(p.Of.Pos, fmt.Sprintf("price of %q for this kind of amount is given twice", clip(p.Of.Value)), "")
		}
		seen[key] = true
	}
	c.problems.Sort()
	if len(c.problems) > 0 {
		return nil, c.problems
	}
	return book, nil
}

func isCurrency(text string) bool {
	return len(text) == 3 && !strings.ContainsFunc(text, func(r rune) bool { return r < 'A' || r > 'Z' })
}

// price resolves one price.
func (c *checker) price(p *Price) {
	c.known(p.Of)
	if p.Costs.IsZero() && p.Labor.IsZero() && !p.Of.IsZero() {
		c.report(p.Pos, fmt.Sprintf("price of %q: neither costs nor labor is given", clip(p.Of.Value)), "")
	}
	p.CostsOf, p.HasCosts = c.money(p.Costs)
	p.LaborOf, p.HasLabor = c.money(p.Labor)
	if !p.Per.IsZero() {
		c.per(p)
	}
}

// known holds the id of a price to the base and to what is ordered beside it.
func (c *checker) known(of strict.Text) {
	if of.IsZero() || c.base.Material(of.Value) != nil {
		return
	}
	for _, i := range Items() {
		if i.ID == of.Value {
			return
		}
	}
	hint := "relath search finds materials by name"
	// Looking for what was meant takes time; a book full of wrong ids is wrong in
	// another way.
	const looked = 20
	if c.unknown++; c.unknown <= looked {
		if near := strict.Suggest(of.Value, c.ids()); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
	}
	c.report(of.Pos, fmt.Sprintf("%q is neither a material of the base nor something that is ordered beside them", clip(of.Value)), hint)
}

// ids lists what may have a price.
func (c *checker) ids() []string {
	var list []string
	for _, i := range Items() {
		list = append(list, i.ID)
	}
	for _, m := range c.base.Materials {
		list = append(list, m.ID)
	}
	return list
}

// money reads an amount of money, or two with "to" between.
func (c *checker) money(text strict.Text) (quantity.Range, bool) {
	if text.IsZero() {
		return quantity.Range{}, false
	}
	r, err := quantity.ParseRange(text.Value, quantity.Number)
	if err != nil {
		c.report(text.Pos, fmt.Sprintf("%q is no amount of money", clip(text.Value)), "a plain number, such as 0.62, or 0.55 to 0.70")
		return r, false
	}
	if r.Low < 0 || r.High > highestPrice {
		c.report(text.Pos, fmt.Sprintf("%q is out of range", clip(text.Value)), "allowed is 0 to 10,000,000")
		return r, false
	}
	return r, true
}

// per reads the amount that a price is for.
func (c *checker) per(p *Price) {
	words := map[string]Kind{"piece": Pieces, "panel": Panels, "bag": Bags, "board foot": BoardFeet}
	if k, ok := words[p.Per.Value]; ok {
		p.Kind, p.Amount = k, 1
		return
	}
	for _, d := range []struct {
		dimension quantity.Dimension
		kind      Kind
	}{{quantity.Area, Area}, {quantity.Length, Length}, {quantity.Volume, Volume}, {quantity.Mass, Mass}} {
		if v, err := quantity.Parse(p.Per.Value, d.dimension); err == nil && v > leastAmount {
			p.Kind, p.Amount = d.kind, v
			return
		}
	}
	c.report(p.Per.Pos, fmt.Sprintf("%q is no amount that is sold", clip(p.Per.Value)),
		"an area, length, volume or mass, such as 1 ft2, 8 ft, 1 gal, 50 lb, or board foot, panel, bag or piece")
}

func clip(text string) string {
	const longest = 60
	if r := []rune(text); len(r) > longest {
		return string(r[:longest]) + "…"
	}
	return text
}

// find gives the prices of an item, those of the book first, then that of a
// folder laid over the base in the same currency.
func (b *PriceBook) find(base *kb.Base, id string) []*Price {
	var list []*Price
	for i := range b.Prices {
		if b.Prices[i].Of.Value == id {
			list = append(list, &b.Prices[i])
		}
	}
	if len(list) > 0 {
		return list
	}
	if p := base.Price(id); p != nil && p.Currency == b.Currency {
		kinds := map[quantity.Dimension]Kind{
			quantity.Area: Area, quantity.Length: Length, quantity.Volume: Volume, quantity.Mass: Mass, quantity.Count: Pieces,
		}
		list = append(list, &Price{
			Pos: p.Pos, Of: strict.Text{Value: p.Of, Pos: p.Pos}, Per: p.Per, From: p.From, Date: p.Date,
			Kind: kinds[p.Dimension], Amount: p.PerSI, CostsOf: quantity.Exact(p.Costs), HasCosts: true,
		})
	}
	return list
}

// FromBase is a price book without entries of its own: it takes the prices of
// folders laid over the base. It is nil where there are none, or where they are
// in more than one currency.
func FromBase(base *kb.Base) *PriceBook {
	var currencies []string
	for _, p := range base.Prices {
		if !slices.Contains(currencies, p.Currency) {
			currencies = append(currencies, p.Currency)
		}
	}
	if len(currencies) != 1 {
		return nil
	}
	return &PriceBook{Format: bookFormat, Name: "prices laid over the base", Currency: currencies[0]}
}

// Words names the price book; invented prices are called so.
func (b *PriceBook) Words() string {
	name := "by your prices"
	if b.Name != "" {
		name = "by the price book " + b.Name
	}
	if b.Invented == "yes" {
		name += "; every price is invented"
	}
	return name
}

// Lists says whether a material can be had by the book: it has a price, or it
// is mixed on site of what has one.
func (b *PriceBook) Lists(base *kb.Base, m *kb.Material) bool {
	listed := func(id string) bool { return len(b.find(base, id)) > 0 }
	return listed(m.ID) || isSiteMix(m) && listed(limeID) && listed(sandID)
}
