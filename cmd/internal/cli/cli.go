// Package cli is the command line: one file for each verb. It owns flags,
// streams and exit codes; results go to the standard output, everything else to
// the standard error. It computes and words nothing.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"

	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// The exit codes.
const (
	Done        = 0   // all went well
	Found       = 1   // findings at or above the level of --fail-on
	BadInput    = 2   // something given is wrong: a file, a flag, a name
	Internal    = 3   // a mistake of this program
	Interrupted = 130 // stopped by the user
)

// Streams are where a run reads and writes.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// Run runs one command and gives its exit code.
func Run(ctx context.Context, args []string, s Streams) (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(s.Err, "relath: internal error: %v\n%s", r, debug.Stack())
			code = Internal
		}
	}()
	a := &app{Streams: s}
	root := a.root()
	root.SetArgs(args)
	root.SetIn(s.In)
	root.SetOut(s.Out)
	root.SetErr(s.Err)
	return a.exit(root.ExecuteContext(ctx))
}

// errFound ends a run whose findings reach the level of --fail-on.
var errFound = errors.New("findings at or above the level of --fail-on")

// internalError is a mistake of this program, not of what it was given.
type internalError struct{ error }

func (e internalError) Unwrap() error { return e.error }

// exit says on the error stream what went wrong and gives the exit code.
func (a *app) exit(err error) int {
	var problems strict.Problems
	var internal internalError
	switch {
	case err == nil:
		return Done
	case errors.Is(err, errFound):
		fmt.Fprintln(a.Err, "relath:", err)
		return Found
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(a.Err, "relath: interrupted")
		return Interrupted
	case errors.As(err, &problems):
		fmt.Fprintln(a.Err, problems.Error())
		return BadInput
	case errors.As(err, &internal):
		fmt.Fprintln(a.Err, "relath: internal error:", internal.error)
		return Internal
	}
	fmt.Fprintln(a.Err, "relath:", err)
	return BadInput
}

// app is one run: its streams, its flags, and the base once it is open.
type app struct {
	Streams
	overlay string
	si      bool
	json    bool
	format  string
	output  string
	paper   string
	force   bool

	pictures string // folder for the drawings and charts of a document

	opened *kb.Base
}

// root makes the command tree.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "relath",
		Short: "Find what keeps a house from drying, and what to build instead",
		Long: `relath reads the description of a house, finds layer by layer where water cannot
leave and what in it feeds mold, tries every swap it knows, computes each again,
and says what holds up, why, what it makes worse and who must agree.

Begin with a typical assembly, fit it to yours, and ask:

  relath new --starter wall-1981-2000 -o house.yaml
  relath check house.yaml
  relath advise house.yaml
  relath spec house.yaml -o spec.pdf

Exit codes: 0 done; 1 findings with --fail-on; 2 something given is wrong;
3 a mistake of this program; 130 interrupted.`,
		SilenceErrors: true, SilenceUsage: true,
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: true},
	}
	f := root.PersistentFlags()
	f.StringVar(&a.overlay, "base", "", "folder laid over the base: your own materials, rules, recipes")
	f.BoolVar(&a.si, "si", false, "show SI units instead of inch-pound")
	f.StringVar(&a.format, "format", "", "text, markdown, html, json or pdf, for lists csv or xlsx too (default text, or by the ending of -o)")
	f.BoolVar(&a.json, "json", false, "the same as --format json")
	f.StringVarP(&a.output, "output", "o", "", "write to this file instead of the standard output")
	f.StringVar(&a.paper, "paper", string(report.Letter), "size of the sheets of a PDF: letter or a4")
	f.BoolVar(&a.force, "force", false, "let -o replace a file, and folders take files beside others")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w; see %s --help", err, c.CommandPath())
	})
	root.AddCommand(
		a.advise(), a.analyze(), a.client(), a.compare(), a.check(), a.starters(), a.schema(), a.search(), a.serve(), a.show(), a.explain(), a.leak(), a.order(), a.places(), a.spec(), a.baseVerb(),
	)
	return root
}

// base opens the base, with the overlay if one is given.
func (a *app) base() (*kb.Base, error) {
	if a.opened != nil {
		return a.opened, nil
	}
	base, err := kb.Open(kb.Options{Overlay: a.overlay})
	a.opened = base
	return base, err
}

// maker makes documents in the units asked for.
func (a *app) maker(base *kb.Base) report.Maker { return report.Maker{Base: base, Units: a.units()} }

// tester tests rules and words their reasons in the units asked for.
func (a *app) tester(base *kb.Base) rule.Tester { return rule.Tester{Base: base, System: a.units()} }

func (a *app) units() quantity.System {
	if a.si {
		return quantity.SI
	}
	return quantity.InchPound
}

// computed sorts the error of a computation: an interrupt and a wrong name stay
// what they are, all else is a mistake of this program.
func computed(err error, names ...any) error {
	if err == nil || errors.Is(err, context.Canceled) {
		return err
	}
	for _, target := range names {
		if errors.As(err, target) {
			return err
		}
	}
	return internalError{err}
}
