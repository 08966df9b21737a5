// Package advisor is the order of the steps: read a house, tie it to the base,
// analyze its assemblies, judge them, and find swaps that hold up. It owns
// nothing else.
package advisor

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// Load reads a description and ties it to the base. The error is a
// [strict.Problems] with every problem of the file.
func Load(base *kb.Base, file string, data []byte) (*assembly.Resolved, error) {
	house, doc, problems := assembly.Parse(file, data)
	if len(problems) > 0 {
		return nil, problems
	}
	resolved, problems := assembly.Resolve(house, doc, base)
	return resolved, problems.Err()
}

// Choose narrows a house to the assembly of a name; an empty name takes all.
// It is an error when the house has none, or none of that name.
func Choose(house *assembly.Resolved, name string) ([]*assembly.Assembly, error) {
	var list []*assembly.Assembly
	var names []string
	for _, a := range house.Assemblies {
		names = append(names, a.Name)
		if name == "" || a.Name == name {
			list = append(list, a)
		}
	}
	if len(list) > 0 {
		return list, nil
	}
	if len(names) == 0 {
		return nil, &ChoiceError{What: "assembly", Name: name}
	}
	return nil, &ChoiceError{What: "assembly", Name: name, Allowed: names}
}

// ChoiceError says that a name given on the side names nothing in the house.
type ChoiceError struct {
	What, Name string
	Allowed    []string
	Flag       string // the flag that says which is meant, where none was given
}

// Error names the thing and what is allowed.
func (e *ChoiceError) Error() string {
	switch {
	case len(e.Allowed) == 0:
		return fmt.Sprintf("the house has no %s", e.What)
	case e.Name == "":
		return fmt.Sprintf("several could be meant; name the %s with %s: %s", e.What, e.Flag, quoted(e.Allowed))
	}
	return fmt.Sprintf("no %s is called %q; there are %s", e.What, e.Name, quoted(e.Allowed))
}

func quoted(list []string) string {
	words := make([]string, len(list))
	for i, w := range list {
		words[i] = strconv.Quote(w)
	}
	return strings.Join(words, ", ")
}

// Analyze computes assemblies and what rules and code tables say of them. Those
// that are built alike are computed and judged once.
func Analyze(ctx context.Context, t rule.Tester, list []*assembly.Assembly) ([]report.Analysis, error) {
	results, first, err := computed(ctx, t.Base, list)
	if err != nil {
		return nil, err
	}
	out := make([]report.Analysis, len(list))
	err = each(len(list), func(i int) error {
		if first[i] != i {
			return nil
		}
		var err error
		out[i], err = judged(t, results[i])
		return err
	})
	for i, at := range first {
		out[i] = out[at]
		out[i].Result = results[i]
	}
	return out, err
}

// computed analyzes assemblies, those that are built alike once, and gives for
// each the first that it is like.
func computed(ctx context.Context, base *kb.Base, list []*assembly.Assembly) (results []*analysis.Result, first []int, err error) {
	results = make([]*analysis.Result, len(list))
	first = alike(len(list), func(i int) description { return describe(list[i]) })
	err = each(len(list), func(i int) error {
		if first[i] != i {
			return nil
		}
		var err error
		results[i], err = analysis.Run(ctx, base, list[i])
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	for i, at := range first {
		if at != i {
			results[i] = results[at].On(base, list[i])
		}
	}
	return results, first, nil
}

// judged adds findings with what turns them, what the code tables say, and the
// cautions that findings and proposed layers call for.
func judged(t rule.Tester, r *analysis.Result) (report.Analysis, error) {
	a := report.Analysis{Result: r, Findings: rule.Evaluate(t, r), Codes: t.Answers(r)}
	a.Cautions = swap.DescribedCautions(t, r, a.Findings)
	err := t.Flips(r, a.Findings)
	a.Measures = t.Measures(r, a.Findings)
	return a, err
}

// Advise finds swaps for assemblies, or for one layer of them.
func Advise(ctx context.Context, t rule.Tester, list []*assembly.Assembly, opts swap.Options) ([]*swap.Advice, error) {
	if opts.Layer != "" && !slices.ContainsFunc(list, func(a *assembly.Assembly) bool { return hasLayer(a, opts.Layer) }) {
		return nil, &ChoiceError{What: "layer", Name: opts.Layer, Allowed: layerNames(list)}
	}
	var out []*swap.Advice
	for _, a := range list {
		if opts.Layer != "" && !hasLayer(a, opts.Layer) {
			continue
		}
		advice, err := swap.Propose(ctx, t, a, opts)
		if err != nil {
			return nil, err
		}
		if err := flips(t, advice); err != nil {
			return nil, err
		}
		out = append(out, advice)
	}
	return out, nil
}

// flips finds where the findings of an assembly, and those that its swaps bring,
// turn.
func flips(t rule.Tester, advice *swap.Advice) error {
	if err := t.Flips(advice.Before, advice.Findings); err != nil {
		return err
	}
	for i := range advice.Proposals {
		if err := t.Flips(advice.Proposals[i].After, advice.Proposals[i].Introduced); err != nil {
			return err
		}
	}
	return nil
}

func hasLayer(a *assembly.Assembly, name string) bool {
	return slices.Contains(layerNames([]*assembly.Assembly{a}), name)
}

func layerNames(list []*assembly.Assembly) []string {
	var names []string
	for _, a := range list {
		for i := range a.Described.Layers {
			if name := a.Described.Layers[i].Name.Value; !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}
