package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A pound is 16 ounces, and 453.59237 g; it is never said as 16 of them.
func TestMass(t *testing.T) {
	for _, row := range []struct {
		grams float64
		unit  Unit
		want  string
	}{
		{16, Millimetre, "16.0 g"},
		{999.94, Centimetre, "999.9 g"},
		{999.96, Metre, "1.00 kg"},
		{1470, "", "1.47 kg"},
		{28.349523125, Inch, "1.0 oz"},
		{450, Inch, "15.9 oz"},
		{453.5, Inch, "1.0 lb"},
		{453.59237, Foot, "1.0 lb"},
		{1470, Foot, "3.2 lb"},
	} {
		assert.Equal(t, row.want, Mass(row.grams, row.unit), "%g g in %s", row.grams, row.unit)
	}
}
