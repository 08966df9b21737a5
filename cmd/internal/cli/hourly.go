package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"relath/advisor"
	"relath/advisor/assembly"
)

// hourlyFlags are those of the verbs that run the hourly model.
type hourlyFlags struct {
	weather string
	year    string
}

func (f *hourlyFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.weather, "weather", "", "measured hourly year instead of the synthetic one: TMY3 or CSV with named columns, plain or gzip")
	c.Flags().StringVar(&f.year, "year", "", "wetter or colder than typical")
}

// wishes reads the flags; the measured year is at the place of the house.
func (f *hourlyFlags) wishes(a *app, list []*assembly.Assembly, what string) (advisor.Hourly, error) {
	o := advisor.Hourly{Shift: advisor.Shift(f.year), Progress: a.progress(what)}
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
