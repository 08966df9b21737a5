package index_test

import (
	"strings"
	"testing"

	"relath/index"
)

// first gives the first three entries.
func first(t *testing.T, ix *index.Index, words string) map[string]bool {
	found, err := ix.Search(index.Query{Words: words, Limit: 3})
	if err != nil {
		t.Fatalf("%q: %v", words, err)
	}
	names := map[string]bool{}
	for _, h := range found.Hits {
		names[string(h.Kind)+" "+h.ID] = true
	}
	return names
}

// Whoever types a name in full wants the entry of that name, however the words
// would read in a sentence: "Asphalt felt, No. 15", "Gypsum plaster without
// aggregate". Up to three entries may share a name.
func TestEveryNameLeadsToItsEntry(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	expect := func(kind index.Kind, id string, names ...string) {
		for _, name := range append(names, id) {
			if !first(t, ix, name)[string(kind)+" "+id] {
				t.Errorf("%q does not lead to %s %s", name, kind, id)
			}
		}
	}
	for _, m := range base.Materials {
		kind := index.Material
		if m.Form == "coat" {
			kind = index.Coating
		}
		expect(kind, m.ID, append(m.Also, m.Name)...)
	}
	for _, r := range base.Recipes {
		expect(index.Recipe, r.ID, r.Title)
	}
	for _, r := range base.Rules {
		expect(index.Rule, r.ID, r.Title)
	}
	for _, c := range base.Tables {
		expect(index.Code, c.ID, c.Title)
	}
	for _, c := range base.Cautions {
		expect(index.Caution, c.ID, c.Title)
	}
	for _, s := range base.Starters {
		expect(index.Starter, s.ID, s.Title)
	}
	for _, s := range base.Systems {
		expect(index.System, s.ID, s.Name)
	}
	for _, p := range base.Places {
		expect(index.Place, p.ID, p.Name, p.Name+", "+p.Region)
	}
}

// Case, spaces, punctuation and British spelling do not matter.
func TestSpellingOfAQuestionDoesNotMatter(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	british := strings.NewReplacer("fiber", "fibre", "mold", "mould", "vapor", "vapour", "gray", "grey", "color", "colour")
	for _, q := range append(readQuestions(t, base, "questions-kept.yaml"), readQuestions(t, base, "questions.yaml")...) {
		want := ids(t, ix, index.Query{Words: q.Ask})
		for _, other := range []string{
			strings.ToUpper(q.Ask), "  " + strings.ReplaceAll(q.Ask, " ", "\t ") + "?!", british.Replace(q.Ask),
		} {
			if got := ids(t, ix, index.Query{Words: other}); got != want {
				t.Errorf("%q finds %s\n%q finds %s", q.Ask, want, other, got)
			}
		}
	}
}

// ids lists what a query finds, in order.
func ids(t testing.TB, ix *index.Index, q index.Query) string {
	found, err := ix.Search(q)
	if err != nil {
		t.Fatalf("%+v: %v", q, err)
	}
	var all []string
	for _, h := range found.Hits {
		all = append(all, string(h.Kind)+" "+h.ID)
	}
	return strings.Join(all, ", ")
}

// A slip in a word leads where the word leads, and is told.
func TestSlips(t *testing.T) {
	ix := opened(t)
	for _, c := range []struct{ typed, word, read string }{
		{"celulose", "cellulose", "cellulose"},
		{"insulaton board", "insulation board", "insulation"},
		{"gysum board", "gypsum board", "gypsum"},
		{"limewsh", "limewash", "limewash"},
		{"linolium", "linoleum", "linoleum"},
		{"lime plas", "lime plaster", "plaster"}, // not typed to its end
	} {
		found, err := ix.Search(index.Query{Words: c.typed})
		if err != nil {
			t.Fatal(err)
		}
		if len(found.Read) != 1 || found.Read[0].Read != c.read {
			t.Errorf("%q is read as %v, not %q", c.typed, found.Read, c.read)
		}
		if got, want := ids(t, ix, index.Query{Words: c.typed}), ids(t, ix, index.Query{Words: c.word}); got != want {
			t.Errorf("%q finds %s\n%q finds %s", c.typed, got, c.word, want)
		}
	}
	// A word that nothing has is left alone, not bent to fit.
	found, err := ix.Search(index.Query{Words: "moisture meter"})
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Read) != 0 || len(found.Ignored) != 1 || found.Ignored[0] != "meter" {
		t.Errorf("meter: read %v, ignored %v", found.Read, found.Ignored)
	}
}

// What must not be is nowhere among the hits, by name, vocabulary or adhesive.
func TestWithout(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	for _, c := range []struct{ words, term string }{
		{"floor without vinyl", "vinyl"},
		{"vinyl free floor", "vinyl"},
		{"sheathing but not plywood", "plywood"},
		{"no plastic house wrap", "plastic"},
	} {
		found, err := ix.Search(index.Query{Words: c.words})
		if err != nil {
			t.Fatal(err)
		}
		if len(found.Hits) == 0 {
			t.Errorf("%q finds nothing", c.words)
		}
		for _, h := range found.Hits {
			m := base.Material(h.ID)
			if (h.Kind == index.Material || h.Kind == index.Coating) && has(m.Terms, c.term) {
				t.Errorf("%q finds %s, which is %s", c.words, h.ID, c.term)
			}
		}
	}
	found, err := ix.Search(index.Query{Words: "sheathing without formaldehyde"})
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range found.Hits {
		if m := base.Material(h.ID); h.Kind == index.Material && strings.Contains(m.Composition.Adhesive, "formaldehyde") && !strings.Contains(m.Composition.Adhesive, "none") {
			t.Errorf("%s is bound by %s", h.ID, m.Composition.Adhesive)
		}
	}
}

func has(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// Every hit of a question tells why it was found.
func TestEveryHitTellsWhy(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	for _, q := range readQuestions(t, base, "questions-kept.yaml") {
		found, err := ix.Search(index.Query{Words: q.Ask})
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range found.Hits {
			if len(h.Why) == 0 && found.Instead == "" {
				t.Errorf("%q: nothing tells why %s was found", q.Ask, h.ID)
			}
		}
	}
}

// A phrase of the synonyms stands in one group: in two it would mean either.
func TestSynonymsStandInOneGroup(t *testing.T) {
	groupOf := map[string]string{}
	for _, group := range embedded(t).Synonyms {
		if len(group) < 2 {
			t.Errorf("group %v has nothing to be the same as", group)
		}
		for _, phrase := range group {
			key := strings.NewReplacer(" ", "", "-", "", "'", "", ".", "").Replace(strings.ToLower(phrase))
			if other, taken := groupOf[key]; taken {
				t.Errorf("%q stands in the group of %q and of %q", phrase, other, group[0])
			}
			groupOf[key] = group[0]
		}
	}
}

// The name of a state or province leads to its places; a city may have it as well.
func TestRegionsByName(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	regions := map[string]bool{}
	for _, group := range base.Synonyms {
		region, ok := strings.CutSuffix(group[0], " region")
		if !ok {
			continue
		}
		regions[region] = true
		found, err := ix.Search(index.Query{Words: group[1], Kind: []index.Kind{index.Place}})
		if err != nil {
			t.Fatal(err)
		}
		want := 0
		for _, p := range base.Places {
			if p.Region == region {
				want++
			}
		}
		got := 0
		for _, h := range found.Hits {
			if base.Place(h.ID).Region == region {
				got++
			} else if got < want && !strings.Contains(h.Name, group[1]) {
				t.Errorf("%s: %s stands before its places", group[1], h.ID)
			}
		}
		if got != want {
			t.Errorf("%s: %d of %d places", group[1], got, want)
		}
	}
	for _, p := range base.Places {
		if !regions[p.Region] {
			t.Errorf("%s: region %s has no name among the synonyms", p.ID, p.Region)
		}
	}
}
