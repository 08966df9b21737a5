package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"relath/advisor/report"
	"relath/index"
	"relath/kb"
)

// searchFlags are the flags of search that every base has; the properties of
// the base are flags too.
type searchFlags struct {
	duty, filter, kind     []string
	adhesive, family, sort string
	limit                  int
}

func (a *app) search() *cobra.Command {
	var f searchFlags
	c := &cobra.Command{
		Use:   "search WORDS...",
		Short: "Find materials, coatings, recipes, rules and places",
		Long: `search finds entries of the base by words as builders use them, by duty, and by
any property with its unit. A hit is surely over a bound when its whole range is,
possibly when part of it is. It says how many were left out, and which of them
for lack of data.

Every property of the base is a flag: --permeance '>5 perm', --density '<400
kg/m3', --adhesive-share '<= 1 %'. relath explain lists the properties.`,
		Example: `  relath search lime plaster
  relath search what instead of osb
  relath search --duty sheathing --permeance '>5 perm' --adhesive none
  relath search --duty insulate --sort -permeance --limit 10
  relath search --filter 'permeance > 10 perm dry' --json`,
		DisableFlagParsing: true,
		RunE: func(c *cobra.Command, args []string) error {
			base, words, err := a.searchArguments(c, &f, args)
			if err != nil || base == nil {
				return err
			}
			return a.find(base, &f, c.Flags(), words)
		},
	}
	flags := c.Flags()
	flags.StringArrayVar(&f.duty, "duty", nil, "a duty, or what it is in an assembly: sheathing, cladding, insulate")
	flags.StringArrayVar(&f.filter, "filter", nil, "a property with a bound: 'permeance > 5 perm'")
	flags.StringArrayVar(&f.kind, "kind", nil, "material, coating, system, recipe, starter, rule, code, caution or place")
	flags.StringVar(&f.adhesive, "adhesive", "", "none, some, any, or words of the adhesive")
	flags.StringVar(&f.family, "family", "", "family of the material, such as cladding")
	flags.StringVar(&f.sort, "sort", "", "a property, falling with - before it, or name")
	flags.IntVar(&f.limit, "limit", 15, "most hits that are shown; 0 shows all")
	return c
}

// searchArguments reads the flags in two steps: first those that say which base
// to open, then the properties of that base. Without base or error there was
// nothing to search for and help was printed.
func (a *app) searchArguments(c *cobra.Command, f *searchFlags, args []string) (*kb.Base, []string, error) {
	flags := c.Flags()
	flags.AddFlagSet(c.InheritedFlags())
	flags.ParseErrorsAllowlist = pflag.ParseErrorsAllowlist{UnknownFlags: true}
	err := flags.Parse(args)
	if help, _ := flags.GetBool("help"); help || errors.Is(err, pflag.ErrHelp) || len(args) == 0 {
		return nil, nil, c.Help()
	}
	base, err := a.base()
	if err != nil {
		return nil, nil, err
	}
	for _, p := range base.Properties {
		if flags.Lookup(p.ID) == nil {
			flags.String(p.ID, "", p.Title)
		}
	}
	f.duty, f.filter, f.kind = nil, nil, nil
	flags.ParseErrorsAllowlist = pflag.ParseErrorsAllowlist{}
	if err := flags.Parse(args); err != nil {
		return nil, nil, fmt.Errorf("%w; see %s --help", err, c.CommandPath())
	}
	return base, flags.Args(), nil
}

// find asks the index and prints what it found.
func (a *app) find(base *kb.Base, f *searchFlags, flags *pflag.FlagSet, words []string) error {
	q := index.Query{Words: strings.Join(words, " "), Duty: unique(f.duty), Adhesive: f.adhesive, Family: f.family, Sort: f.sort, Limit: f.limit}
	for _, k := range unique(f.kind) {
		q.Kind = append(q.Kind, index.Kind(k))
	}
	filters, err := filtersOf(base, f, flags)
	if err != nil {
		return err
	}
	q.Filters = filters
	ix, err := index.Open(base, "")
	if err != nil {
		return internalError{err}
	}
	defer ix.Close()
	result, err := ix.Search(q)
	if err != nil {
		return computed(err, new(*index.InputError))
	}
	m := a.maker(base)
	found := foundOf(base, q, result)
	return a.page("search", m.Search(found), given(report.SearchData(found)))
}

// unique drops what two passes over the same arguments gave twice.
func unique(list []string) []string {
	list = slices.Clone(list)
	var out []string
	for _, s := range list {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// filtersOf reads --filter and the flags of properties.
func filtersOf(base *kb.Base, f *searchFlags, flags *pflag.FlagSet) ([]index.Filter, error) {
	var list []index.Filter
	add := func(property, text string) error {
		filter, err := index.ParseFilter(base, property, text)
		if err == nil {
			list = append(list, filter)
		}
		return err
	}
	for _, text := range unique(f.filter) {
		if err := add("", text); err != nil {
			return nil, err
		}
	}
	for _, p := range base.Properties {
		if flag := flags.Lookup(p.ID); flag != nil && flag.Value.String() != "" {
			if err := add(p.ID, flag.Value.String()); err != nil {
				return nil, err
			}
		}
	}
	return list, nil
}

// foundOf puts the answer of the index into the words of the report.
func foundOf(base *kb.Base, q index.Query, r *index.Result) report.Found {
	f := report.Found{Asked: askedWords(q), Total: r.Total, Failed: r.Failed}
	for _, m := range r.NoData {
		f.NoData = append(f.NoData, report.FoundMissing(m))
	}
	for _, x := range r.Read {
		f.Readings = append(f.Readings, fmt.Sprintf("%q was read as %q.", x.Typed, x.Read))
	}
	if len(r.Ignored) > 0 {
		f.Readings = append(f.Readings, "Nothing in the base has: "+strings.Join(r.Ignored, ", ")+".")
	}
	if len(r.Without) > 0 {
		f.Readings = append(f.Readings, "Left out on purpose: "+strings.Join(r.Without, ", ")+".")
	}
	if r.Instead != "" {
		f.Readings = append(f.Readings, "Read as: what to use instead of "+r.Instead+".")
	}
	for _, h := range r.Hits {
		e := entryOf(base, h)
		if m := base.Material(h.ID); m != nil && h.Adhesive != "" {
			c := m.Composition
			e.Adhesive = &report.FoundAdhesive{Words: c.Adhesive, Asked: q.Adhesive, Outcome: string(h.Adhesive), Basis: c.Basis, Evidence: c.Basis.Evidence}
		}
		f.Hits = append(f.Hits, e)
	}
	return f
}

// entryOf puts one hit into the words of the report.
func entryOf(base *kb.Base, h index.Hit) report.FoundEntry {
	e := report.FoundEntry{Kind: string(h.Kind), ID: h.ID, Name: h.Name, Summary: h.Summary}
	for _, c := range h.Checks {
		asked := fmt.Sprintf("%s %s", c.Filter.Op, c.Filter.Written)
		e.Checks = append(e.Checks, report.NewFoundCheck(base, c.Filter.Property, asked, string(c.Outcome), c.Value))
	}
	if h.Sorted != nil && !slices.ContainsFunc(e.Checks, func(c report.FoundCheck) bool { return c.Property == h.Sorted.Filter.Property }) {
		e.Checks = append(e.Checks, report.NewFoundCheck(base, h.Sorted.Filter.Property, "", "", h.Sorted.Value))
	}
	for _, o := range h.Duties {
		terms := o.Needs
		if o.Verdict != "" {
			terms = strings.Trim(string(o.Verdict)+"; "+terms, "; ")
		}
		e.Duties = append(e.Duties, report.FoundDuty{Duty: o.Duty, Terms: terms})
	}
	for _, why := range h.Why {
		if why.Found != "" {
			e.Because = append(e.Because, fmt.Sprintf("%s: %s", why.Asked, why.Found))
		}
	}
	return e
}

// askedWords says the query in one line.
func askedWords(q index.Query) string {
	var parts []string
	if q.Words != "" {
		parts = append(parts, q.Words)
	}
	for _, d := range q.Duty {
		parts = append(parts, "duty "+d)
	}
	for _, f := range q.Filters {
		parts = append(parts, f.String())
	}
	if q.Adhesive != "" {
		parts = append(parts, "adhesive "+q.Adhesive)
	}
	if q.Family != "" {
		parts = append(parts, "family "+q.Family)
	}
	return strings.Join(parts, " · ")
}
