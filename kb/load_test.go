package kb

import (
	"errors"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"relath/kb/strict"
)

var update = flag.Bool("update", false, "rewrite the wanted messages")

// small gives the valid small base of the tests with some files replaced.
func small(t testing.TB, files ...txtar.File) fstest.MapFS {
	t.Helper()
	tree := fstest.MapFS{}
	root := os.DirFS("testdata/small")
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, p)
		tree[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		tree[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return tree
}

func mustLoad(t testing.TB, base fs.FS, overlays ...fs.FS) *Base {
	t.Helper()
	b, err := Load(base, overlays...)
	if err != nil {
		t.Fatalf("load:\n%v", err)
	}
	return b
}

// Each archive breaks one thing of the small base; its last file holds the
// problems that must be reported, word for word, and nothing when all is well.
func TestLoadProblems(t *testing.T) {
	names, err := filepath.Glob("testdata/load/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("got archives %v, error %v; want some", names, err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			last := len(archive.Files) - 1
			if last < 0 || archive.Files[last].Name != "want" {
				t.Fatal(`the last file of the archive must be "want"`)
			}
			got := ""
			if _, err := Load(small(t, archive.Files[:last]...)); err != nil {
				got = err.Error() + "\n"
			}
			if *update {
				archive.Files[last].Data = []byte(got)
				if err := os.WriteFile(name, txtar.Format(archive), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(string(archive.Files[last].Data), got); diff != "" {
				t.Errorf("problems (-want +got):\n%s", diff)
			}
		})
	}
}

func TestLoadSmall(t *testing.T) {
	b := mustLoad(t, small(t))
	if got := []string{b.Materials[0].ID, b.Materials[1].ID, b.Materials[2].ID}; !cmp.Equal(got, []string{"plain-board", "plain-paint", "plank"}) {
		t.Errorf("materials %v; want all three sorted by id", got)
	}
	if m := b.Material("plank"); m == nil {
		t.Error("plank not found")
	}
}

// The error of Load is a list of problems, so that a caller can show each.
func TestLoadErrorIsProblems(t *testing.T) {
	_, err := Load(small(t, txtar.File{Name: "notes.txt", Data: []byte("hello")}))
	var problems strict.Problems
	if !errors.As(err, &problems) || len(problems) != 1 || problems[0].File != "notes.txt" {
		t.Errorf("got %v; want one problem of notes.txt", err)
	}
}
