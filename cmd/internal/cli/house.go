package cli

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
)

// read gives the bytes of a description; "-" is the standard input. More than
// the reader takes is not read.
func (a *app) read(name string) ([]byte, error) {
	in := a.In
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		if info, err := f.Stat(); err == nil && info.IsDir() {
			return nil, fmt.Errorf("%s is a folder; a description file is needed", name)
		}
		in = f
	}
	return io.ReadAll(io.LimitReader(in, assembly.MaxBytes+1))
}

// house loads a description and ties it to the base.
func (a *app) house(name string) (*kb.Base, *assembly.Resolved, error) {
	data, err := a.read(name)
	if err != nil {
		return nil, nil, err
	}
	base, err := a.base()
	if err != nil {
		return nil, nil, err
	}
	if name == "-" {
		name = "standard input"
	}
	house, err := advisor.Load(base, name, data)
	return base, house, err
}

// chosen loads a description and picks the assemblies of a name.
func (a *app) chosen(file, name string) (*kb.Base, []*assembly.Assembly, error) {
	base, house, err := a.house(file)
	if err != nil {
		return nil, nil, err
	}
	list, err := advisor.Choose(house, name)
	return base, list, err
}

// one refuses anything but a single argument, and says what it stands for.
func one(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch len(args) {
		case 1:
			return nil
		case 0:
			return fmt.Errorf("%s is missing; see %s --help", what, c.CommandPath())
		}
		return fmt.Errorf("only one %s is allowed, and %q is a second; see %s --help", what, args[1], c.CommandPath())
	}
}

// failFlag is --fail-on.
type failFlag struct{ level string }

func (f *failFlag) add(c *cobra.Command) {
	c.Flags().StringVar(&f.level, "fail-on", "", "exit with 1 when a finding surely holds at this level or a stronger one: "+strings.Join(kb.Level("").Allowed(), ", "))
}

// check refuses an unknown level before anything is computed.
func (f *failFlag) check() error {
	if f.level != "" && !slices.Contains(kb.Level("").Allowed(), f.level) {
		return fmt.Errorf("level %q is not known; allowed: %s", f.level, strings.Join(kb.Level("").Allowed(), ", "))
	}
	return nil
}

// reached says whether a finding surely holds at the level or a stronger one.
func (f *failFlag) reached(found []rule.Finding) bool {
	levels := kb.Level("").Allowed()
	limit := slices.Index(levels, f.level)
	return slices.ContainsFunc(found, func(x rule.Finding) bool {
		return x.Verdict == kb.No && slices.Index(levels, string(x.Level)) <= limit
	})
}
