package strict

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"relath/kb/quantity"
)

var update = flag.Bool("update", false, "write the expected problems again")

type facing string

func (facing) Allowed() []string { return []string{"north", "east", "south", "west"} }

type side string

func (side) Allowed() []string { return []string{"outdoors", "room", "ground"} }

// named is embedded, so its fields are fields of what embeds it.
type named struct {
	At   Pos    `yaml:",pos"`
	Name string `yaml:"name,required"`
}

type wall struct {
	named
	Faces    facing            `yaml:"faces"`
	Area     Text              `yaml:"area,omitempty"`
	Openings Text              `yaml:"openings,omitempty"`
	Between  []side            `yaml:"between"`
	Layers   []layer           `yaml:"layers"`
	Notes    map[string]string `yaml:"notes"`
	Shares   Ordered[float64]  `yaml:"shares"`
	When     *Value            `yaml:"when"`
	Ignored  int               `yaml:"-"`
	Untagged int
}

type layer struct {
	named
	Thickness Text     `yaml:"thickness"`
	Sealed    *bool    `yaml:"sealed"`
	Open      bool     `yaml:"open"`
	Count     uint8ish `yaml:"count"`
	Share     float64  `yaml:"share"`
	Material  choice   `yaml:"material"`
	Zone      string   `yaml:"zone"`
}

type uint8ish int8

// choice is either a word or {one-of: [...]}.
type choice struct {
	Word  string
	OneOf []string
}

func (c *choice) UnmarshalNode(v *Value, report Report) {
	if v.Kind == Scalar {
		v.Decode(&c.Word, report)
		return
	}
	var several struct {
		OneOf []string `yaml:"one-of,required"`
	}
	v.Decode(&several, report)
	c.OneOf = several.OneOf
}

func (c choice) MarshalNode() any {
	if c.OneOf != nil {
		return map[string][]string{"one-of": c.OneOf}
	}
	return c.Word
}

func (c choice) IsZero() bool { return c.Word == "" && c.OneOf == nil }

// load decodes a wall and reads its quantities.
func load(file string, data []byte) (wall, Problems) {
	var w wall
	doc, problems := Load(file, data, Limits{}, &w)
	if doc == nil {
		return w, problems
	}
	report := func(pos Pos, message, hint string) {
		problems = append(problems, doc.Problem(pos, message, hint))
	}
	if !w.Area.IsZero() {
		w.Area.SI(quantity.Area, report)
	}
	for _, l := range w.Layers {
		if !l.Thickness.IsZero() {
			l.Thickness.SI(quantity.Length, report)
		}
	}
	problems.Sort()
	return w, problems
}

// Every file of testdata/problems is wrong; the text beside it is what the reader gets to see.
func TestProblems(t *testing.T) {
	files, err := filepath.Glob("testdata/problems/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			_, problems := load(filepath.Base(file), data)
			if len(problems) == 0 {
				t.Fatal("no problem found")
			}
			compareFile(t, strings.TrimSuffix(file, ".yaml")+".txt", problems.Error()+"\n")
		})
	}
}

func compareFile(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("problems differ (-want +got):\n%s", diff)
	}
}
