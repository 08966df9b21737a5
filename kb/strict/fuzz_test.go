package strict

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// Any bytes give a wall that can be written and read again, or problems that lie in the file.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(good))
	files, err := filepath.Glob("testdata/problems/*.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		w, problems := load("f.yaml", data)
		if len(problems) > 0 {
			located(t, data, problems)
			return
		}
		again, err := Encode(w)
		if err != nil {
			t.Fatalf("a wall that was read cannot be written: %v", err)
		}
		back, problems := load("again.yaml", again)
		if len(problems) > 0 {
			t.Fatalf("what was written cannot be read:\n%s\n%v", again, problems)
		}
		ignore := cmp.Options{cmp.AllowUnexported(wall{}, layer{}), cmpopts.IgnoreTypes(Pos{}), cmpopts.EquateEmpty(), cmpopts.IgnoreFields(Value{}, "Quoted"), cmpopts.IgnoreUnexported(Value{})}
		if diff := cmp.Diff(w, back, ignore); diff != "" {
			t.Fatalf("the wall changed on its way (-read +written and read):\n%s\n%s", diff, again)
		}
	})
}

// located checks that every problem says something, points into the file, and prints without control characters.
func located(t *testing.T, data []byte, problems Problems) {
	t.Helper()
	lines := strings.Split(string(data), "\n")
	for _, p := range problems {
		if p.Message == "" || p.File != "f.yaml" {
			t.Errorf("problem %+v", p)
		}
		if p.Line < 0 || p.Line > len(lines) || p.Column < 0 || p.Line > 0 && p.Column > utf8.RuneCountInString(lines[p.Line-1])+1 {
			t.Errorf("problem %+v is not in the file", p)
		}
	}
	text := problems.Error()
	for _, r := range text {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
			t.Errorf("the printed problems contain %U", r)
		}
	}
}

// Every text that may stand in a file comes back as it was.
func TestEncodeText(t *testing.T) {
	piece := rapid.SampledFrom([]string{
		"no", "~", "null", "010", "1e5", ".5", "- ", ": ", " #", "#", "&a", "*a", "!t", "|", ">", "%", "@", "`", "'", `"`, "[", "]", "{", "}", ",", "?",
		"\n", "\t", " ", "  ", "---", "...", "<<", "=", "\\", "½", "é", "壁", "\U0001F3E0", "\u00a0", "2026-01-01", "x",
	})
	rapid.Check(t, func(t *rapid.T) {
		want := strings.Join(rapid.SliceOfN(piece, 0, 8).Draw(t, "pieces"), "")
		if rapid.Bool().Draw(t, "free") {
			want = strings.Map(func(r rune) rune {
				if isForbidden(r) {
					return -1
				}
				return r
			}, rapid.String().Draw(t, "text"))
		}
		in := map[string][]string{"k" + want: {want, want + want}}
		data, err := Encode(in)
		if err != nil {
			t.Fatal(err)
		}
		var out map[string][]string
		if _, problems := Load("x", data, Limits{}, &out); len(problems) > 0 {
			t.Fatalf("%s\n%v", data, problems)
		}
		if diff := cmp.Diff(in, out); diff != "" {
			t.Fatalf("%s\n%s", diff, data)
		}
	})
}

func TestEncodeRefuses(t *testing.T) {
	type numbers struct {
		X float64 `yaml:"x"`
	}
	zero := 0.0
	for _, v := range []any{
		nil, (*wall)(nil),
		[]any{nil},
		numbers{1 / zero},
		numbers{zero / zero},
		[]string{"\x1b"},
		[]string{"\xff"},
		map[string]int{"\x07": 1},
		map[int]int{1: 1},
		[]any{func() {}},
		uint(1),
	} {
		if data, err := Encode(v); err == nil {
			t.Errorf("%#v is written as %q", v, data)
		}
	}
}

// The same value gives the same bytes.
func TestEncodeIsStable(t *testing.T) {
	m := map[string]int{}
	for _, k := range strings.Fields("a b c d e f g h i j k l m n o p q r s t") {
		m[k] = 1
	}
	first, err := Encode(m)
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		if again, err := Encode(m); err != nil || string(again) != string(first) {
			t.Fatalf("%s, then %s, %v", first, again, err)
		}
	}
}

func BenchmarkLoad(b *testing.B) {
	data := []byte(good)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		var w wall
		if _, problems := Load("good.yaml", data, Limits{}, &w); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

// What it costs to find the place of a syntax error at the end of a file of ordinary and of the largest size.
func BenchmarkSyntaxError(b *testing.B) {
	for _, c := range []struct {
		name  string
		lines int
	}{{"4KiB", 200}, {"1MiB", 52_000}} {
		data := []byte(strings.Repeat("- name: something up\n", c.lines)[:min(c.lines*21, 1<<20-20)] + "\nx: [1] y\n")
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, problems := Parse("x", data, Limits{}); len(problems) == 0 {
					b.Fatal("no problem")
				}
			}
		})
	}
}
