package assembly_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/strict"
)

var update = flag.Bool("update", false, "write the golden files anew")

const hostile = "../../testdata/hostile"

func loadBase(t testing.TB) *kb.Base {
	t.Helper()
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// read parses and resolves a description.
func read(base *kb.Base, name string, data []byte) (*assembly.Resolved, strict.Problems) {
	house, doc, problems := assembly.Parse(name, data)
	if len(problems) > 0 {
		return nil, problems
	}
	return assembly.Resolve(house, doc, base)
}

// TestHostile reads wrong files: each gives located problems and no house, and
// the words are those of its golden file.
func TestHostile(t *testing.T) {
	base := loadBase(t)
	files, err := filepath.Glob(filepath.Join(hostile, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	const least = 60
	if len(files) < least {
		t.Fatalf("%d wrong files; at least %d are wanted", len(files), least)
	}
	for _, file := range files {
		name := filepath.Base(file)
		t.Run(strings.TrimSuffix(name, ".yaml"), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			resolved, problems := read(base, name, data)
			if len(problems) == 0 || resolved != nil {
				t.Fatal("the wrong file is taken")
			}
			for _, p := range problems {
				if p.Line == 0 && name != "empty.yaml" && name != "only-a-comment.yaml" {
					t.Errorf("a problem without a place: %s", p.Message)
				}
			}
			golden(t, strings.TrimSuffix(file, ".yaml")+".txt", problems.Error()+"\n")
		})
	}
}

// golden compares text with a golden file, or writes it with -update.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
