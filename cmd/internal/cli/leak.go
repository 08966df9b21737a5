package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/kb/quantity"
)

// leakFlags say what is wetted, with how much, when.
type leakFlags struct {
	name, layer, face  string
	amount, over, rain string
	on                 []string
	export             string
	hourly             hourlyFlags
}

func (a *app) leak() *cobra.Command {
	var f leakFlags
	c := &cobra.Command{
		Use:   "leak FILE",
		Short: "Wet a layer and follow the water for a year",
		Long: `leak pours water onto a layer in winter and in summer, runs the wall hour by hour
with and without it, and says how long it takes to dry, where the water went and
what the mold index makes of it. Without flags 0.41 lb/ft2 (2 kg/m2) go onto the
cavity face of the sheathing within 6 hours, on 15 January and on 15 July.

The model is one-dimensional and a leak is a spot. No swap cures an active leak:
stop the source first.`,
		Example: `  relath leak house.yaml
  relath leak house.yaml --assembly "north wall" --layer sheathing --amount "1 kg/m2" --on 03-01 --over "24 h"
  relath leak house.yaml --rain default --weather des-moines.csv.gz
  relath leak house.yaml -o leak.html
  relath leak house.yaml --export leak-tables
  relath leak house.yaml --pictures drawings`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error { return a.runLeak(c, args[0], &f) },
	}
	flags := c.Flags()
	flags.StringVar(&f.name, "assembly", "", "only the assembly of this name")
	flags.StringVar(&f.layer, "layer", "", "the layer that is wetted (default the sheathing)")
	flags.StringVar(&f.face, "face", "", "outer, inner or whole (default the face toward the insulation)")
	flags.StringVar(&f.amount, "amount", "", "water per area, such as \"2 kg/m2\" or \"0.4 lb/ft2\"")
	flags.StringVar(&f.over, "over", "", "how long it flows, such as \"6 h\"")
	flags.StringSliceVar(&f.on, "on", nil, "days of the year as MM-DD (default 01-15,07-15)")
	flags.StringVar(&f.rain, "rain", "", "instead of an amount, the share of the rain on the wall that gets in, such as \"1 %\", or default")
	flags.StringVar(&f.export, "export", "", "write the runs of the best values as plain tables into this folder")
	f.hourly.add(c)
	a.addPictures(c)
	return c
}

func (a *app) runLeak(c *cobra.Command, file string, f *leakFlags) error {
	w, err := f.wetting()
	if err != nil {
		return err
	}
	if _, err := a.ready(); err != nil {
		return err
	}
	base, list, err := a.chosen(file, f.name)
	if err != nil {
		return err
	}
	if w.Hourly, err = f.hourly.wishes(a, list, "wetting"); err != nil {
		return err
	}
	t := a.tester(base)
	results, err := advisor.Leak(c.Context(), t, list, w)
	if err != nil {
		return computed(err, new(*advisor.ChoiceError), new(*advisor.AskError))
	}
	err = a.export(f.export, func(create func(string) (io.WriteCloser, error)) error {
		return advisor.ExportLeak(c.Context(), t, list, w, create)
	})
	if err != nil {
		return err
	}
	m := a.maker(base)
	return a.page("leak", m.Leak(results), func() (any, error) { return m.LeakData(results), nil })
}

// wetting reads the flags that say what is wetted.
func (f *leakFlags) wetting() (advisor.Wetting, error) {
	w := advisor.Wetting{Layer: f.layer, Face: advisor.LeakFace(f.face), Rain: f.rain == "default"}
	const secondsPerHour = 3600
	for _, x := range []struct {
		flag, text string
		dimension  quantity.Dimension
		factor     float64
		into       *float64
	}{
		{"--amount", f.amount, quantity.AreaDensity, 1, &w.Amount},
		{"--over", f.over, quantity.Duration, 1.0 / secondsPerHour, &w.Over},
		{"--rain", f.rain, quantity.Ratio, 1, &w.RainShare},
	} {
		if x.text == "" || w.Rain && x.flag == "--rain" {
			continue
		}
		v, err := quantity.Parse(x.text, x.dimension)
		if err != nil {
			return w, fmt.Errorf("%s: %w", x.flag, err)
		}
		*x.into = v * x.factor
	}
	for _, text := range f.on {
		day, err := advisor.ParseLeakDay(text)
		if err != nil {
			return w, fmt.Errorf("--on: %w", err)
		}
		w.On = append(w.On, day)
	}
	return w, nil
}
