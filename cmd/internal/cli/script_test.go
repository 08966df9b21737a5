package cli

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts run the program as relath, in this test binary.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"relath": func() {
			os.Exit(Run(context.Background(), os.Args[1:], Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
		},
	})
}

// TestScripts runs every script of testdata/script: each verb from end to end.
func TestScripts(t *testing.T) {
	cache := t.TempDir()
	houses, err := filepath.Abs("../../../testdata/houses")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "../../../testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOUSES", houses)
			e.Setenv("XDG_CACHE_HOME", cache)
			e.Setenv("HOME", cache)
			return nil
		},
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}
