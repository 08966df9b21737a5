package climate

import (
	"io"
	"os"
	"path/filepath"
	"testing"
)

// measuredNames are the measured years kept with the project.
func measuredNames() []string {
	return []string{"tmy3-725300-chicago-il.csv.gz", "tmy3-725460-des-moines-ia.csv.gz"}
}

// weatherFile opens a measured year.
func weatherFile(t testing.TB, name string) io.Reader {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "weather", name))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// measured reads a measured year.
func measured(t testing.TB, name string) *Year {
	t.Helper()
	y, err := ReadTMY3(weatherFile(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// placeOf returns a place with the monthly figures of a year.
func placeOf(y *Year, id string) *Place {
	return &Place{ID: id, Latitude: y.Site.Latitude, Longitude: y.Site.Longitude, Months: y.Months()}
}

// generated returns the synthetic year of a place.
func generated(t testing.TB, p *Place) *Year {
	t.Helper()
	y, err := Generate(p)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// inventedPlace is a made-up place of a cold and mixed climate.
func inventedPlace() *Place {
	p := &Place{ID: "invented", Latitude: 42, Longitude: -93, Elevation: 250}
	temperature := [12]float64{-6.1, -3.2, 3.4, 10.5, 16.6, 21.9, 24.3, 23.1, 18.5, 11.6, 3.9, -3.6}
	pressure := [12]float64{310, 370, 560, 830, 1260, 1780, 2100, 1990, 1440, 900, 590, 380}
	sun := [12]float64{75, 107, 146, 189, 230, 257, 258, 224, 178, 126, 82, 64}
	for m := range p.Months {
		p.Months[m] = Month{
			Temperature: temperature[m], TemperatureMax: temperature[m] + 5.5, TemperatureMin: temperature[m] - 5.3,
			RelativeHumidity: 0.71, VaporPressure: pressure[m], Sun: sun[m], WindSpeed: 4.5,
			Precipitation: 30 + 8*float64(m%7), PrecipitationDays: 8,
		}
	}
	return p
}
