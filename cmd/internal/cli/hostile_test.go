package cli

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"
)

// TestHostileFiles gives every wrong file to the verbs that read one: the exit
// code is that of wrong input, problems go to the error stream, and nothing is
// printed as a result.
func TestHostileFiles(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	files, err := filepath.Glob("../../../testdata/hostile/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no wrong files: %v", err)
	}
	verbs := []string{"check", "analyze", "advise", "spec", "order", "leak"}
	for i, file := range files {
		verb := verbs[i%len(verbs)]
		t.Run(filepath.Base(file)+" "+verb, func(t *testing.T) {
			var out, errs bytes.Buffer
			code := Run(context.Background(), []string{verb, file}, Streams{In: strings.NewReader(""), Out: &out, Err: &errs})
			if code != 2 {
				t.Errorf("exit code %d, want 2", code)
			}
			if out.Len() > 0 {
				t.Errorf("a wrong file gives a result: %s", out.String())
			}
			if !strings.Contains(errs.String(), filepath.Base(file)) {
				t.Errorf("the error does not name the file: %s", errs.String())
			}
		})
	}
}
