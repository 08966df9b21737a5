package analysis

import (
	"context"
	"strings"
	"testing"

	"relath/advisor/steady"
)

// A bare concrete slab on the ground: the temperature of the ground 1.5 m down
// and the resistance of the ground to there act in series with the slab, so that
// the ratio at the floor is 1 − R_si/(R_si + R_slab + R_ground), with R_si of ISO
// 13788 for mold (recalled) and 1.5 m at 2.0 W/(m·K) of ISO 13370 (recalled).
func TestSlabRestsOnTheGround(t *testing.T) {
	base := loadBase(t)
	text := strings.Replace(others, "assemblies:", "indoor: {heating: {temperature: 68 F, humidity: 35 %}}\nassemblies:", 1)
	slab := resolve(t, base, text).Assemblies[1]
	r, err := Run(context.Background(), base, slab)
	if err != nil {
		t.Fatal(err)
	}
	v := r.Variants[0]
	concrete := v.Layers[1].Facts["layer-resistance"].Range.Best
	near(t, "surface ratio", v.Facts["temperature-ratio"].Range.Best, 1-steady.MoldFilm/(steady.MoldFilm+concrete+1.5/2.0), 1e-9)
	if h := v.Facts["room-surface-humidity"]; h.Range.High > 0.8 {
		t.Errorf("the floor of a heated house in Des Moines is said to reach %g humidity", h.Range.High)
	}
}
