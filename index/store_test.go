package index_test

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"relath/index"
	"relath/kb"
)

const question = "breathable paint for old plaster"

// kept lists the files of the index of a base below a cache folder.
func kept(t *testing.T, base *kb.Base, folder string) []string {
	var files []string
	root := filepath.Join(folder, base.Version, "search")
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files = append(files, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// answers opens an index, asks and closes it.
func answers(t *testing.T, base *kb.Base, folder string) string {
	ix, err := index.Open(base, folder)
	if err != nil {
		t.Fatal(err)
	}
	defer ix.Close()
	return ids(t, ix, index.Query{Words: question})
}

func TestIndexIsKept(t *testing.T) {
	base, folder := embedded(t), t.TempDir()
	want := answers(t, base, folder)
	before := map[string]time.Time{}
	for _, name := range kept(t, base, folder) {
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		before[name] = info.ModTime()
	}
	if len(before) == 0 {
		t.Fatal("nothing is kept")
	}
	if got := answers(t, base, folder); got != want {
		t.Errorf("found %s, then %s", want, got)
	}
	for name, then := range before {
		info, err := os.Stat(name)
		if err != nil || !info.ModTime().Equal(then) {
			t.Errorf("%s was made again", name)
		}
	}
	left, err := os.ReadDir(filepath.Join(folder, base.Version))
	if err != nil || len(left) != 1 {
		t.Errorf("%v is left beside the index, %v", left, err)
	}
}

// Each file cut short, with a byte changed, emptied or gone: the index is made
// again and answers as before.
func TestDamagedIndexIsMadeAgain(t *testing.T) {
	base := embedded(t)
	folder := t.TempDir()
	want := answers(t, base, folder)
	files := kept(t, base, folder)
	damage := map[string]func(name string, data []byte) error{
		"cut":   func(name string, data []byte) error { return os.WriteFile(name, data[:len(data)/2], 0o600) },
		"empty": func(name string, _ []byte) error { return os.WriteFile(name, nil, 0o600) },
		"gone":  func(name string, _ []byte) error { return os.Remove(name) },
		"changed": func(name string, data []byte) error {
			data[len(data)/3] ^= 0x40
			return os.WriteFile(name, data, 0o600)
		},
	}
	for _, name := range files {
		for how, spoil := range damage {
			t.Run(filepath.Base(name)+" "+how, func(t *testing.T) {
				data, err := os.ReadFile(name)
				if err != nil {
					t.Fatal(err)
				}
				if err := spoil(name, data); err != nil {
					t.Fatal(err)
				}
				if got := answers(t, base, folder); got != want {
					t.Errorf("found %s, not %s", got, want)
				}
				if again := kept(t, base, folder); len(again) != len(files) {
					t.Errorf("kept %v, before %v", again, files)
				}
			})
		}
	}
}

// Where the cache folder cannot be made, the index lives in memory.
func TestIndexWithoutAFolder(t *testing.T) {
	base := embedded(t)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if got, want := answers(t, base, file), answers(t, base, t.TempDir()); got != want {
		t.Errorf("found %s, not %s", got, want)
	}
}

// cacheVariable names the cache folder to a process that the next test starts.
const cacheVariable = "RELATH_TEST_CACHE"

// Several processes that start at once with an empty cache all get an answer,
// and leave one whole index.
func TestSeveralProcesses(t *testing.T) {
	if folder := os.Getenv(cacheVariable); folder != "" {
		fmt.Println("found", answers(t, embedded(t), folder))
		return
	}
	base, folder := embedded(t), t.TempDir()
	outputs := make([]string, 4)
	var wait sync.WaitGroup
	for i := range outputs {
		wait.Go(func() {
			c := exec.Command(os.Args[0], "-test.run=^TestSeveralProcesses$", "-test.v")
			c.Env = append(os.Environ(), cacheVariable+"="+folder)
			out, err := c.CombinedOutput()
			if err != nil {
				t.Errorf("process %d: %v\n%s", i, err, out)
			}
			outputs[i] = foundLine(string(out))
		})
	}
	wait.Wait()
	want := "found " + answers(t, base, folder)
	for i, out := range outputs {
		if out != want {
			t.Errorf("process %d: %q, not %q", i, out, want)
		}
	}
	if left, err := os.ReadDir(filepath.Join(folder, base.Version)); err != nil || len(left) != 1 {
		t.Errorf("%v is left beside the index, %v", left, err)
	}
}

// One index serves several goroutines.
func TestSeveralGoroutines(t *testing.T) {
	ix := open(t, embedded(t), t.TempDir())
	want := ids(t, ix, index.Query{Words: question})
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 5 {
				if got := ids(t, ix, index.Query{Words: question}); got != want {
					t.Errorf("found %s, not %s", got, want)
				}
			}
		})
	}
	wait.Wait()
}

// foundLine gives the line of an output that tells what was found.
func foundLine(out string) string {
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, "found ") {
			return strings.TrimSpace(line)
		}
	}
	return out
}
