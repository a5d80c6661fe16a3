package decimal_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/decimal"
)

func num(t *testing.T, text string) decimal.Number {
	n, err := decimal.Parse(text)
	require.NoError(t, err)
	return n
}

func TestExact(t *testing.T) {
	assert.Equal(t, "0.3", num(t, "0.1").Add(num(t, "0.2")).String())
	assert.Equal(t, "1", decimal.Ratio(1, 3).Mul(decimal.Of(3)).String())
	for _, c := range []struct{ in, want string }{{"1.005", "1.01"}, {"1.0049", "1.00"}, {"-1.005", "-1.01"}, {"-0.004", "0.00"}, {"2.5", "2.50"}} {
		assert.Equal(t, c.want, num(t, c.in).Text(2), c.in)
	}
	for _, c := range []struct{ in, want string }{{"2", "2"}, {"2.000001", "3"}, {"-2.5", "-2"}, {"0", "0"}, {"100", "100"}} {
		assert.Equal(t, c.want, num(t, c.in).Ceil().String(), c.in)
	}
	assert.Equal(t, "0", decimal.Number{}.String())
}

func TestNotNumbers(t *testing.T) {
	for _, text := range []string{"", "1,5", "1e9", "1/3", "+1", ".5", "1.", "1234567890123", "1.1234567", "NaN"} {
		_, err := decimal.Parse(text)
		assert.Error(t, err, text)
	}
}

func FuzzParse(f *testing.F) {
	f.Add("12.50")
	f.Add("-0.000001")
	f.Fuzz(func(t *testing.T, text string) {
		if n, err := decimal.Parse(text); err == nil {
			again, err := decimal.Parse(n.String())
			require.NoError(t, err)
			assert.Zero(t, n.Cmp(again))
		}
	})
}
