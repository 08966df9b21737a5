package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/swap"
	"relath/kb"
)

// hourlyFlags are those of the verbs that run the hourly model.
type hourlyFlags struct {
	on      bool
	weather string
	year    string
	years   int
	folder  string
	air     bool
}

// add adds the flags that say under which weather.
func (f *hourlyFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.weather, "weather", "", "measured hourly year instead of the synthetic one: TMY3 or CSV with named columns, plain or gzip")
	c.Flags().StringVar(&f.year, "year", "", "wetter or colder than typical")
	c.Flags().BoolVar(&f.air, "air-path", false, "a further corner: room air reaches the cold side of the bay where no layer is a sealed air barrier")
}

// addSwitch adds --hourly for verbs that run the hourly model only when asked.
func (f *hourlyFlags) addSwitch(c *cobra.Command) {
	c.Flags().BoolVar(&f.on, "hourly", false, "run heat and moisture hour by hour too: mold index, wood moisture, damp hours")
	c.Flags().IntVar(&f.years, "years", 0, "how many years are run; the last one counts (default 2)")
	f.add(c)
}

// addExport adds --export.
func (f *hourlyFlags) addExport(c *cobra.Command) {
	c.Flags().StringVar(&f.folder, "export", "", "write the hourly runs of the best values as plain tables into this folder")
}

// check refuses flags of hourly runs where none are made.
func (f *hourlyFlags) check() error {
	if !f.on && (f.weather != "" || f.year != "" || f.years != 0 || f.folder != "" || f.air) {
		return errors.New("--weather, --year, --years, --air-path and --export go with --hourly")
	}
	return nil
}

// analyzed analyzes assemblies, hour by hour too if asked, and gives the wishes
// for hourly runs.
func (a *app) analyzed(ctx context.Context, base *kb.Base, list []*assembly.Assembly, f *hourlyFlags) ([]report.Analysis, advisor.Hourly, error) {
	if err := f.check(); err != nil {
		return nil, advisor.Hourly{}, err
	}
	t := a.tester(base)
	if !f.on {
		results, err := advisor.Analyze(ctx, t, list)
		return results, advisor.Hourly{}, computed(err)
	}
	o, err := f.wishes(a, list, "hour by hour")
	if err != nil {
		return nil, advisor.Hourly{}, err
	}
	results, err := advisor.AnalyzeHourly(ctx, t, list, o)
	if err != nil {
		return nil, o, computed(err, new(*advisor.AskError))
	}
	return results, o, a.export(f.folder, func(create func(string) (io.WriteCloser, error)) error {
		return advisor.ExportHourly(ctx, t, list, o, create)
	})
}

// advised finds swaps, verified hour by hour if asked.
func (a *app) advised(ctx context.Context, base *kb.Base, list []*assembly.Assembly, opts swap.Options, f *hourlyFlags) ([]*swap.Advice, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	t := a.tester(base)
	if !f.on {
		advice, err := advisor.Advise(ctx, t, list, opts)
		return advice, computed(err, new(*advisor.ChoiceError))
	}
	o, err := f.wishes(a, list, "verifying")
	if err != nil {
		return nil, err
	}
	advice, err := advisor.AdviseHourly(ctx, t, list, opts, o)
	return advice, computed(err, new(*advisor.ChoiceError), new(*advisor.AskError))
}

// wishes reads the flags; the measured year is at the place of the house.
func (f *hourlyFlags) wishes(a *app, list []*assembly.Assembly, what string) (advisor.Hourly, error) {
	o := advisor.Hourly{Shift: advisor.Shift(f.year), Years: f.years, AirPath: f.air, Progress: a.progress(what)}
	if f.weather == "" {
		return o, nil
	}
	in, err := os.Open(f.weather)
	if err != nil {
		return o, err
	}
	defer in.Close()
	if o.Weather, err = advisor.ReadWeather(in, list[0].House.Place); err != nil {
		return o, fmt.Errorf("%s: %w", f.weather, err)
	}
	return o, nil
}

// progress shows how many hourly runs are done, on the error stream and only
// when somebody looks at it.
func (a *app) progress(what string) func(done, total int) {
	f, ok := a.Err.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	var bar *progressbar.ProgressBar
	return func(done, total int) {
		if bar == nil || bar.GetMax() != total {
			bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(f), progressbar.OptionSetDescription(what),
				progressbar.OptionClearOnFinish(), progressbar.OptionShowCount())
		}
		_ = bar.Set(done) // a bar that cannot be drawn is no error
	}
}

// export writes tables into a new or empty folder; without a folder it does
// nothing.
func (a *app) export(folder string, write func(create func(string) (io.WriteCloser, error)) error) error {
	if folder == "" {
		return nil
	}
	if held, err := os.ReadDir(folder); err == nil && len(held) > 0 && !a.force {
		return fmt.Errorf("folder %s is not empty; --force writes into it", folder)
	}
	files := 0
	err := write(func(name string) (io.WriteCloser, error) {
		at := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			return nil, err
		}
		files++
		return &tableFile{name: at}, nil
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(a.Err, "wrote %d tables into %s\n", files, folder)
	return nil
}

// tableFile collects a table and writes it whole when it is closed.
type tableFile struct {
	bytes.Buffer
	name string
}

// Close moves the table to its place.
func (f *tableFile) Close() error { return replace(f.name, f.Bytes(), true) }
