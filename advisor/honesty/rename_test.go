package honesty_test

import (
	"io/fs"
	"math/rand/v2"
	"path"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"relath/kb"
)

// The places where a file names a material, a coating or a system. Terms and
// duties share words with ids and must stay, so only these places are changed.
var (
	ownID   = regexp.MustCompile(`(?m)^(id: *"?)([a-z0-9-]+)`)
	named   = regexp.MustCompile(`(\b(?:material|coating|substrate|stands-in|is): *"?)([a-z0-9-]+)`)
	doubted = regexp.MustCompile(`(?m)(\bone-of: *\[)([^\]\n]*)(\])`)
	coats   = regexp.MustCompile(`(?m)(^coats: *\[)([^\]\n]*)(\])`)
	word    = regexp.MustCompile(`[a-z0-9][a-z0-9-]*`)
)

// renamer gives every material, coating and system a name out of the blue, of
// the same length: a description is written on one line where it fits.
type renamer struct{ ids map[string]string }

func newRenamer(base *kb.Base) renamer {
	random := rand.New(rand.NewPCG(1926, 5))
	r := renamer{ids: make(map[string]string)}
	taken := make(map[string]bool)
	give := func(id string) {
		name := id
		for name == id || taken[name] {
			name = "x"
			for range len(id) - 1 {
				name += string(rune('a' + random.IntN(26)))
			}
		}
		taken[name], r.ids[id] = true, name
	}
	for _, m := range base.Materials {
		give(m.ID)
	}
	for _, s := range base.Systems {
		give(s.ID)
	}
	return r
}

// one gives the new name of an id; what is no id stays.
func (r renamer) one(id string) string {
	if name, ok := r.ids[id]; ok {
		return name
	}
	return id
}

// text renames in a file of the base or of a house.
func (r renamer) text(text string, own bool) string {
	second := func(pattern *regexp.Regexp, text string, change func(string) string) string {
		return pattern.ReplaceAllStringFunc(text, func(match string) string {
			parts := pattern.FindStringSubmatch(match)
			return parts[1] + change(parts[2]) + strings.Join(parts[3:], "")
		})
	}
	list := func(words string) string { return word.ReplaceAllStringFunc(words, r.one) }
	text = second(named, text, r.one)
	text = second(doubted, text, list)
	if own {
		text = second(ownID, text, r.one)
		text = second(coats, text, list)
	}
	return text
}

// tree renames in all files of a base; those of entries take their new names.
func (r renamer) tree(t *testing.T, files fs.FS) fstest.MapFS {
	out := fstest.MapFS{}
	err := fs.WalkDir(files, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, p)
		if err != nil {
			return err
		}
		folder, _, _ := strings.Cut(p, "/")
		own := folder == "materials" || folder == "coatings" || folder == "systems"
		to := p
		if own {
			to = path.Join(path.Dir(p), r.one(strings.TrimSuffix(path.Base(p), ".yaml"))+".yaml")
		}
		out[to] = &fstest.MapFile{Data: []byte(r.text(string(data), own))}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// back gives the text with the old names.
func (r renamer) back(text string) string {
	var pairs []string
	for id, name := range r.ids {
		pairs = append(pairs, name, id)
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// TestRename gives every material, coating and system another name, in the base
// and in the houses: findings, numbers and proposals stay, down to the last
// digit and the order. No code and no rule knows a material by its id.
func TestRename(t *testing.T) {
	base := embedded(t)
	r := newRenamer(base)
	renamed, err := kb.Load(r.tree(t, kb.Embedded()))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range renamed.Materials {
		if base.Material(m.ID) != nil {
			t.Fatalf("%s has kept its name", m.ID)
		}
	}
	if len(renamed.Materials) != len(base.Materials) || len(renamed.Systems) != len(base.Systems) {
		t.Fatal("entries are missing")
	}
	var others []source
	for _, s := range houseFiles(t) {
		others = append(others, source{s.name, r.text(s.text, false)})
		if others[len(others)-1].text == s.text {
			t.Fatalf("%s names no material", s.name)
		}
	}
	differ(t, "the houses", r.back(whole(t, adviseAll(t, renamed, others))), whole(t, advised(t)))
	for _, s := range starters(base) {
		differ(t, s.name, r.back(judged(t, renamed, source{s.name, renamed.Starter(s.name).House})), judged(t, base, s))
	}
}
