package cli

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"relath/advisor/report"
	"relath/kb"
)

// nearest is the number of places that are listed around a point.
const nearest = 5

func (a *app) places() *cobra.Command {
	return &cobra.Command{
		Use:   "places [WORDS... | LAT,LON]",
		Short: "List the places of the base, or those nearest to a point",
		Long: `places lists the places that a description may name, with their climate zone and
mean temperatures. Words narrow the list by name, state or zone; a latitude and
longitude in degrees, west negative, give the nearest ones. A single place is
shown with all its months.`,
		Example: `  relath places iowa
  relath places IA 5A
  relath places 41.6,-93.6
  relath places des-moines-ia --si`,
		Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			base, err := a.base()
			if err != nil {
				return err
			}
			list, sub, err := findPlaces(base, args)
			if err != nil {
				return err
			}
			m := a.maker(base)
			return a.page("places", m.Places(list, sub), given(report.PlacesData(list)))
		},
	}
}

// findPlaces reads the arguments as a point or as words.
func findPlaces(base *kb.Base, args []string) (list []*kb.Place, sub string, err error) {
	if len(args) == 1 && strings.Contains(args[0], ",") {
		latitude, longitude, err := point(args[0])
		if err != nil {
			return nil, "", err
		}
		return report.NearestPlaces(base, latitude, longitude, nearest), "nearest to " + args[0], nil
	}
	return report.FindPlaces(base, args), strings.Join(args, " "), nil
}

// point reads LAT,LON in degrees.
func point(text string) (latitude, longitude float64, err error) {
	a, b, _ := strings.Cut(text, ",")
	latitude, err1 := strconv.ParseFloat(strings.TrimSpace(a), 64)
	longitude, err2 := strconv.ParseFloat(strings.TrimSpace(b), 64)
	if err1 != nil || err2 != nil || !(latitude >= -90 && latitude <= 90 && longitude >= -180 && longitude <= 180) {
		return 0, 0, fmt.Errorf("%q is no LAT,LON in degrees; for example 41.6,-93.6", text)
	}
	return latitude, longitude, nil
}
