package cli

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/kb/strict"
)

// run runs a command in this process.
func run(ctx context.Context, in string, args ...string) (code int, out, errs string) {
	var stdout, stderr bytes.Buffer
	code = Run(ctx, args, Streams{In: strings.NewReader(in), Out: &stdout, Err: &stderr})
	return code, stdout.String(), stderr.String()
}

func alderCourt(t *testing.T) string {
	t.Helper()
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	return "../../../testdata/houses/alder-court.yaml"
}

// An interrupt ends a run without output, and says so.
func TestInterrupted(t *testing.T) {
	file := alderCourt(t)
	for _, verb := range []string{"analyze", "advise", "spec"} {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		code, out, errs := run(ctx, "", verb, file)
		if code != Interrupted || out != "" || !strings.Contains(errs, "interrupted") {
			t.Errorf("%s: code %d, out %q, err %q", verb, code, out, errs)
		}
	}
}

func TestExitCodes(t *testing.T) {
	a := &app{Streams: Streams{Err: new(bytes.Buffer)}}
	for _, c := range []struct {
		err  error
		want int
	}{
		{nil, Done},
		{errFound, Found},
		{errors.New("a flag"), BadInput},
		{strict.Problems{{Message: "wrong"}}, BadInput},
		{&advisor.ChoiceError{What: "layer", Name: "x"}, BadInput},
		{computed(errors.New("no profile")), Internal},
		{computed(&advisor.ChoiceError{What: "layer"}, new(*advisor.ChoiceError)), BadInput},
		{computed(context.Canceled), Interrupted},
	} {
		if got := a.exit(c.err); got != c.want {
			t.Errorf("%v exits with %d, want %d", c.err, got, c.want)
		}
	}
}

// A mistake that panics is told as one, with code 3 and nothing on the standard
// output.
func TestPanicIsInternal(t *testing.T) {
	var stdout, stderr bytes.Buffer
	code := Run(context.Background(), []string{"check", "-"}, Streams{In: panicking{}, Out: &stdout, Err: &stderr})
	if code != Internal || stdout.Len() > 0 || !strings.Contains(stderr.String(), "internal error") {
		t.Errorf("code %d, out %q, err %q", code, stdout.String(), stderr.String())
	}
}

type panicking struct{}

func (panicking) Read([]byte) (int, error) { panic("no such stream") }

// Every verb says what it is for, and shows how it is called.
func TestEveryVerbHasHelp(t *testing.T) {
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		if c.HasParent() && (c.Short == "" || c.Long == "" || c.Example == "") {
			t.Errorf("%s lacks help or an example", c.CommandPath())
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk((&app{}).root())
}

// A file is written whole or not at all, never over another without --force.
func TestWriteIsAtomic(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "out.txt")
	if err := replace(name, []byte("one"), false); err != nil {
		t.Fatal(err)
	}
	if err := replace(name, []byte("two"), false); err == nil {
		t.Error("a file is replaced without force")
	}
	if got, _ := os.ReadFile(name); string(got) != "one" {
		t.Errorf("the file holds %q", got)
	}
	if err := replace(name, []byte("two"), true); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(name); string(got) != "two" {
		t.Errorf("the file holds %q", got)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 {
		t.Errorf("%d files are left, %v", len(left), err)
	}
	if err := replace(filepath.Join(dir, "no", "folder"), nil, true); err == nil {
		t.Error("a file is written where there is no folder")
	}
}

// The same command gives the same bytes.
func TestSameBytes(t *testing.T) {
	file := alderCourt(t)
	_, first, _ := run(context.Background(), "", "advise", file, "--json")
	if _, again, _ := run(context.Background(), "", "advise", file, "--json"); again != first || first == "" {
		t.Error("two runs differ")
	}
}
