package cli

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// A binary form is not written to a terminal; a text is.
func TestBinaryFormsOnATerminal(t *testing.T) {
	terminal, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	run := func(args ...string) (int, string) {
		var errs bytes.Buffer
		code := Run(context.Background(), args, Streams{In: strings.NewReader(""), Out: terminal, Err: &errs})
		return code, errs.String()
	}
	if code, errs := run("places", "des moines", "--format", "pdf"); code != BadInput || !strings.Contains(errs, "pdf is not for a terminal; name a file with -o") {
		t.Errorf("exit code %d, %q", code, errs)
	}
	if code, errs := run("places", "des moines"); code != Done || errs != "" {
		t.Errorf("exit code %d, %q", code, errs)
	}
}
