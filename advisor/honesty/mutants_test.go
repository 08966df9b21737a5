package honesty_test

import (
	"bufio"
	"context"
	"encoding/json"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
)

// runMutants asks for the slow part: every fault is built and tested.
var runMutants = flag.Bool("mutants", false, "build each deliberate fault and run the tests that must find it")

// mutant is a deliberate fault: a text of a file that becomes another, and the
// packages whose tests must fail with it.
//
// Its file in testdata/mutants says in its first line what goes wrong, then
// "file:" and "tests:" with arguments of go test, then "from" and "to".
type mutant struct {
	name, what, file string
	tests            []string
	from, to         string
}

func mutants(t *testing.T) []mutant {
	t.Helper()
	paths, err := filepath.Glob("testdata/mutants/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	var list []mutant
	for _, p := range paths {
		archive, err := txtar.ParseFile(p)
		if err != nil {
			t.Fatal(err)
		}
		m := mutant{name: strings.TrimSuffix(filepath.Base(p), ".txt")}
		head := bufio.NewScanner(strings.NewReader(string(archive.Comment)))
		for head.Scan() {
			key, value, _ := strings.Cut(head.Text(), ": ")
			switch key {
			case "file":
				m.file = value
			case "tests":
				m.tests = strings.Fields(value)
			default:
				m.what += head.Text()
			}
		}
		for _, f := range archive.Files {
			switch f.Name {
			case "from":
				m.from = strings.TrimSuffix(string(f.Data), "\n")
			case "to":
				m.to = strings.TrimSuffix(string(f.Data), "\n")
			}
		}
		if m.what == "" || m.file == "" || len(m.tests) == 0 || m.from == "" || m.from == m.to {
			t.Fatalf("%s: what, file, tests, from and to are needed", p)
		}
		list = append(list, m)
	}
	return list
}

// root is the folder of the module.
const root = "../.."

// broken gives the file with the fault in it. The text must stand there exactly
// once, so that a fault cannot outlive the code it breaks.
func (m mutant) broken(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(m.file)))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(data), m.from); n != 1 {
		t.Fatalf("the text stands %d times in %s, once is needed:\n%s", n, m.file, m.from)
	}
	return strings.Replace(string(data), m.from, m.to, 1)
}

// TestMutantsFit: every fault still fits the code.
func TestMutantsFit(t *testing.T) {
	list := mutants(t)
	if len(list) < 30 {
		t.Errorf("%d faults, 30 are wanted", len(list))
	}
	for _, m := range list {
		t.Run(m.name, func(t *testing.T) { m.broken(t) })
	}
}

// TestMutants builds every fault and runs the tests that must find it. A fault
// that no test finds is a hole in the tests.
func TestMutants(t *testing.T) {
	if !*runMutants {
		return
	}
	for _, m := range mutants(t) {
		t.Run(m.name, func(t *testing.T) {
			t.Parallel()
			m.mustBeFound(t)
		})
	}
}

// longest is the time that tests have before they count as hanging, which is a
// way to find a fault.
const longest = 3 * time.Minute

func (m mutant) mustBeFound(t *testing.T) {
	t.Helper()
	dir := t.TempDir()
	file := filepath.Join(dir, filepath.Base(m.file))
	if err := os.WriteFile(file, []byte(m.broken(t)), 0o600); err != nil {
		t.Fatal(err)
	}
	original, err := filepath.Abs(filepath.Join(root, filepath.FromSlash(m.file)))
	if err != nil {
		t.Fatal(err)
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {original: file}})
	if err != nil {
		t.Fatal(err)
	}
	overlayFile := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(overlayFile, overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), longest)
	defer cancel()
	args := append([]string{"test", "-overlay", overlayFile, "-count=1", "-failfast", "-vet=off"}, m.tests...)
	command := exec.CommandContext(ctx, "go", args...)
	command.Dir = root
	out, err := command.CombinedOutput()
	switch text := string(out); {
	case err == nil:
		t.Errorf("no test of %s finds it: %s", strings.Join(m.tests, " "), m.what)
	case strings.Contains(text, "[build failed]") || strings.Contains(text, "[setup failed]") || ctx.Err() == nil && !strings.Contains(text, "FAIL"):
		t.Errorf("the fault does not build:\n%s", text)
	}
}
