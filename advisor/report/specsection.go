package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
)

// section is one section of a specification: what is bought under its number.
type section struct {
	number, title string
	lines         []specLine
	recipes       []*kb.Recipe // whose work is told here
	others        []elsewhereWork
}

// elsewhereWork is a recipe whose work is told in another section.
type elsewhereWork struct {
	recipe *kb.Recipe
	number string
}

// specLine is one line of the quantities with what belongs to it.
type specLine struct {
	line     *takeoff.Line
	material *kb.Material
	plan     *Plan          // nil for finishes
	part     *assembly.Part // nil for finishes
	size     string         // of a finish, as described
	limit    *swap.Limit    // nil where there is none
	recipe   *kb.Recipe     // whose work puts it in, nil where none is known
	beside   []*takeoff.Line
}

// sectionsOf sorts what is bought into sections, by number.
func (p *page) sectionsOf(s *Spec) []section {
	var list []section
	lines := s.Takeoff.Lines
	for i := range lines {
		l := &lines[i]
		if l.Material == nil {
			continue
		}
		number, title := p.sectionOf(l.Material)
		at := slices.IndexFunc(list, func(x section) bool { return x.number == number })
		if at < 0 {
			list = append(list, section{number: number, title: title})
			at = len(list) - 1
		}
		x := p.specLine(s, l)
		for k := range lines {
			if lines[k].Material == nil && (lines[k].Of == i || carries(lines, i, k)) {
				x.beside = append(x.beside, &lines[k])
			}
		}
		list[at].lines = append(list[at].lines, x)
	}
	slices.SortStableFunc(list, func(a, b section) int { return cmp.Compare(a.number, b.number) })
	p.tellWork(list)
	return list
}

// carries says whether a line is the first of its assembly and stage, so that what
// is bought without a material of its own, such as the strips behind a cladding,
// stands with it.
func carries(lines []takeoff.Line, i, k int) bool {
	if lines[k].Of >= 0 || lines[k].Where.Assembly == "" {
		return false
	}
	return i == slices.IndexFunc(lines, func(l takeoff.Line) bool {
		return l.Material != nil && l.Where.Assembly == lines[k].Where.Assembly && l.Stage == lines[k].Stage
	})
}

// sectionOf gives the number and the title under which a material is specified.
func (p *page) sectionOf(m *kb.Material) (number, title string) {
	if row := p.rowFor("spec-sections", m); row != nil {
		return row[0], row[1]
	}
	return "01 60 00", "Product Requirements"
}

// rowFor gives the first row of a table by material whose family and term fit;
// an empty cell fits every material.
func (p *page) rowFor(table string, m *kb.Material) []string {
	l := p.Base.Lookup(table)
	if l == nil {
		return nil
	}
	family, term := l.Column("family"), l.Column("term")
	for _, row := range l.Find() {
		if (row[family] == "" || row[family] == m.Family) && (row[term] == "" || slices.Contains(m.Terms, row[term])) {
			return row
		}
	}
	return nil
}

// specLine finds what belongs to a line of the quantities.
func (p *page) specLine(s *Spec, l *takeoff.Line) specLine {
	x := specLine{line: l, material: l.Material}
	for i := range s.Plans {
		if s.Plans[i].After.Assembly.Name == l.Where.Assembly {
			x.plan = &s.Plans[i]
		}
	}
	if x.plan == nil {
		x.size = s.sizeOf(l)
		x.recipe = p.recipeFor(nil, nil, l.Material)
		return x
	}
	var present []string
	for _, part := range partsOf(x.plan.After) {
		if part.Name == l.Where.Layer {
			x.part = part
		}
		for _, m := range materialsIn(part) {
			present = append(present, m.ID)
		}
	}
	for i := range x.plan.Limits {
		if lim := &x.plan.Limits[i]; lim.Part.Name == l.Where.Layer && (lim.Material == l.Material || l.Material.Form == kb.Coat) {
			x.limit = lim
		}
	}
	x.recipe = p.recipeFor(x.plan.Steps, present, l.Material)
	return x
}

// sizeOf gives the described size of a finish, "" for its coats.
func (s *Spec) sizeOf(l *takeoff.Line) string {
	for i := range s.Finishes {
		f := s.Finishes[i].Finish
		if f.Finish.Room.Value == l.Where.Room && f.Name == l.Where.Part && len(f.Materials) > 0 && f.Materials[0] == l.Material {
			return f.Finish.Size.Value
		}
	}
	return ""
}

// materialsIn lists what a part is made of, with its coats.
func materialsIn(part *assembly.Part) []*kb.Material {
	var list []*kb.Material
	if part.Material != nil {
		list = append(list, part.Material)
	}
	for _, f := range part.Fills {
		if f.Material != nil {
			list = append(list, f.Material)
		}
	}
	return slices.Concat(list, part.CoatsOut, part.CoatsIn)
}

// recipeFor finds the recipe whose work puts a material in: of the swaps that
// were applied, else of the base the one with the most layers of which all are
// there.
func (p *page) recipeFor(steps []*swap.Proposal, present []string, m *kb.Material) *kb.Recipe {
	for _, s := range steps {
		if s.Recipe != nil && slices.Contains(broughtBy(s.Recipe), m.ID) {
			return s.Recipe
		}
	}
	var best *kb.Recipe
	for _, r := range p.Base.Recipes {
		if (r.Part == "finish") != (present == nil) || !slices.Contains(broughtBy(r), m.ID) {
			continue
		}
		all := present == nil || !slices.ContainsFunc(broughtBy(r), func(id string) bool { return !slices.Contains(present, id) })
		if all && len(r.Replaces) > 0 && (best == nil || len(broughtBy(r)) > len(broughtBy(best))) {
			best = r
		}
	}
	return best
}

// broughtBy lists the materials that a recipe brings, the layers first.
func broughtBy(r *kb.Recipe) []string {
	var list []string
	coats := func(c *kb.NewCoats) {
		if c != nil {
			for _, run := range slices.Concat(c.In, c.Out) {
				list = append(list, run.Coating)
			}
		}
	}
	for i := range r.With {
		if id := r.With[i].Material; id != "" {
			list = append(list, id)
		}
	}
	for i := range r.With {
		coats(r.With[i].Coats)
	}
	coats(r.Coats)
	return list
}

// tellWork gives each recipe the section that tells its work: that of its
// thickest layer. The others refer to it.
func (p *page) tellWork(list []section) {
	type home struct {
		section int
		depth   float64
	}
	homes := make(map[*kb.Recipe]home)
	for i := range list {
		for _, x := range list[i].lines {
			depth := 0.0
			if x.part != nil && x.material.Form != kb.Coat {
				depth = x.part.Depth
			}
			if h, ok := homes[x.recipe]; x.recipe != nil && (!ok || depth > h.depth) {
				homes[x.recipe] = home{i, depth}
			}
		}
	}
	for i := range list {
		var seen []*kb.Recipe
		for _, x := range list[i].lines {
			if x.recipe == nil || slices.Contains(seen, x.recipe) {
				continue
			}
			seen = append(seen, x.recipe)
			if at := homes[x.recipe].section; at == i {
				list[i].recipes = append(list[i].recipes, x.recipe)
			} else {
				list[i].others = append(list[i].others, elsewhereWork{x.recipe, list[at].number})
			}
		}
	}
}

// heading is the number and title of a section.
func (x *section) heading() string { return strings.TrimSpace("Section "+x.number) + " · " + x.title }

// section writes one section in its three parts.
func (p *page) section(s *Spec, list []section, i int) {
	x := &list[i]
	p.heading(1, x.heading())
	p.heading(3, "Part 1 General")
	p.general(x)
	p.heading(3, "Part 2 Products")
	p.products(x)
	p.heading(3, "Part 3 Execution")
	p.execution(s, x)
}

// general writes the first part: what it is for, standards, submittals, storage
// and the conditions of the site.
func (p *page) general(x *section) {
	var where, standards []string
	var sources []int
	for _, l := range x.lines {
		where = append(where, fmt.Sprintf("%s (%s)", lower(l.material.Name), placeOf(l.line)))
		if row := p.rowFor("product-standards", l.material); row != nil {
			standards = append(standards, fmt.Sprintf("%s: %s", l.material.Name, row[2]))
			sources = append(sources, p.bases(p.Base.Lookup("product-standards").Basis)...)
		}
	}
	rows := [][]Text{{say("Summary"), say(stop(capital(strings.Join(unique(where), "; "))))}}
	if also := p.alsoHolds(x); also != "" {
		rows = append(rows, []Text{say("With this"), say(also)})
	}
	if len(standards) > 0 {
		rows = append(rows, []Text{say("Standards"), marked(stop(strings.Join(unique(standards), "; ")), kb.Recalled, sources...)})
	}
	for _, article := range []string{"Submittals", "Delivery and storage", "Site conditions"} {
		rows = append(rows, p.article(x, article)...)
	}
	p.articles(1, rows)
}

// articles writes the articles of a part under their numbers.
func (p *page) articles(part int, rows [][]Text) {
	for i := range rows {
		rows[i][0].Words = fmt.Sprintf("%d.%d %s", part, i+1, rows[i][0].Words)
	}
	p.table(Table{Heads: []string{"", ""}, Rows: rows})
}
