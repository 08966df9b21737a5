package cli

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// TestReadme runs the console examples of README.md from the top of the
// project: every line that an example shows must come, in that order. A line
// of … stands for lines that are left out.
func TestReadme(t *testing.T) {
	t.Chdir("../../..")
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	examples := 0
	for _, block := range strings.Split(string(text), "```console\n")[1:] {
		block, _, _ = strings.Cut(block, "\n```")
		command, shown, _ := strings.Cut(block, "\n")
		args, ok := strings.CutPrefix(command, "$ relath ")
		if !ok {
			t.Errorf("the example %q does not begin with $ relath", command)
			continue
		}
		examples++
		t.Run(args, func(t *testing.T) { runExample(t, args, shown) })
	}
	if examples == 0 {
		t.Error("README.md has no console example")
	}
}

func runExample(t *testing.T, args, shown string) {
	var out, errs bytes.Buffer
	code := Run(context.Background(), words(args), Streams{In: strings.NewReader(""), Out: &out, Err: &errs})
	if code != Done {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	lines := strings.Split(out.String(), "\n")
	for _, want := range strings.Split(shown, "\n") {
		want = strings.TrimRight(want, " ")
		if want == "…" || want == "" {
			continue
		}
		found := false
		for len(lines) > 0 && !found {
			found = strings.TrimRight(lines[0], " ") == want
			lines = lines[1:]
		}
		if !found {
			t.Fatalf("the line %q does not come, or not in this order, in\n%s", want, out.String())
		}
	}
}

// words splits a command line at spaces, keeping what stands in single quotes.
func words(line string) []string {
	var list []string
	for i, piece := range strings.Split(line, "'") {
		if i%2 == 1 {
			list = append(list, piece)
			continue
		}
		list = append(list, strings.Fields(piece)...)
	}
	return list
}
