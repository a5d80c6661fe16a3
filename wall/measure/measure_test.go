package measure_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/measure"
)

// The inch is 25.4 mm exactly since the international yard of 1 July 1959 (0.9144 m).
func TestParse(t *testing.T) {
	tests := []struct {
		text string
		bare measure.Unit
		want float64 // mm, exactly the nearest float64
	}{
		{"1", measure.Inch, 25.4},
		{"36 in", measure.Millimetre, 914.4}, // the yard
		{"1", measure.Foot, 304.8},
		{`7'-6 1/2"`, measure.Millimetre, 2298.7}, // 90.5 in
		{`7' 6.5"`, measure.Millimetre, 2298.7},
		{`7'6 1/2`, measure.Millimetre, 2298.7},
		{`7'-6-1/2"`, measure.Metre, 2298.7},
		{`7′-6 ½″`, measure.Millimetre, 2298.7},
		{`7’6½”`, measure.Millimetre, 2298.7},
		{`7'-6 1⁄2''`, measure.Millimetre, 2298.7},
		{`4'-3 1/2"`, measure.Millimetre, 1308.1}, // 51.5 in
		{`7'-0"`, measure.Millimetre, 2133.6},
		{`-7'-6 1/2"`, measure.Millimetre, -2298.7},
		{"−40", measure.Millimetre, -40},
		{"+ 40", measure.Millimetre, 40},
		{"5 ft 3 in", measure.Millimetre, 1600.2}, // 63 in
		{"5 feet 3 inches", measure.Millimetre, 1600.2},
		{"5 ft. 3 in.", measure.Millimetre, 1600.2},
		{"5ft3in", measure.Millimetre, 1600.2},
		{"3/4 in", measure.Millimetre, 19.05},
		{"1-1/2 in", measure.Millimetre, 38.1},
		{"1 1/2", measure.Inch, 38.1},
		{"1½", measure.Foot, 457.2},
		{"⅛ in", measure.Millimetre, 3.175},
		{"7/8\"", measure.Millimetre, 22.225},
		{"1/3 ft", measure.Millimetre, 101.6},
		{"2.4 m", measure.Inch, 2400},
		{"180mm", measure.Foot, 180},
		{"12.7 CM", measure.Millimetre, 127},
		{"2.4", measure.Metre, 2400},
		{" 1500 ", measure.Millimetre, 1500},
		{".5", measure.Millimetre, 0.5},
		{"5.", measure.Millimetre, 5},
		{"0", measure.Millimetre, 0},
		{"0.1 in", measure.Millimetre, 2.54},
		{"2\u00a0400 m", measure.Millimetre, math.NaN()}, // a space among the digits
		{"8 1/2 ft", measure.Millimetre, 2590.8},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, err := measure.Parse(tt.text, tt.bare)
			if math.IsNaN(tt.want) {
				require.Error(t, err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, tt.want, got)
		})
	}
}

func TestParseRefuses(t *testing.T) {
	const example = `write a number with or without a unit, like 2.4 m, 180 mm or 7'-6 1/2"`
	const comma = "write a point before decimals and nothing between thousands, like 1234.5"
	tests := []struct{ text, want string }{
		{"", "there is no length; " + example},
		{"  ", "there is no length; " + example},
		{"wide", `"wide" is not a length; ` + example},
		{"2,4 m", `"2,4 m" has a comma; ` + comma},
		{"1,200", `"1,200" has a comma; ` + comma},
		{".nan", `".nan" is not a length that can be measured; ` + example},
		{"-inf", `"-inf" is not a length that can be measured; ` + example},
		{"Infinity mm", `"Infinity mm" is not a length that can be measured; ` + example},
		{"1e3", `"1e3" is written with an exponent; write the number in full, like 1500`},
		{"2.5E-4 m", `"2.5E-4 m" is written with an exponent; write the number in full, like 1500`},
		{"3 yd", `"3 yd" has the unit "yd", which is not known here; write mm, cm, m, in or ft`},
		{"3 mm2", `"3 mm2" is not a length; ` + example},
		{"2 m 40 cm", `"2 m 40 cm" is not a length; ` + example},
		{"5 ft 3", `"5 ft 3" is not a length; ` + example},
		{"5 ft 3 m", `"5 ft 3 m" is not a length; ` + example},
		{"1.2.3", `"1.2.3" is not a length; ` + example},
		{"--4", `"--4" is not a length; ` + example},
		{"7'-", `"7'-" is not a length; ` + example},
		{"3/4 mm", `"3/4 mm" is a fraction of a mm; write decimals, like 0.75 mm, or add in or ft`},
		{"3/4", `"3/4" is a fraction of a mm; write decimals, like 0.75 mm, or add in or ft`},
		{"3/0 in", `"3/0 in" holds something that is not a fraction; write whole numbers above and below the stroke, like 3/4`},
		{"1.5/2 in", `"1.5/2 in" holds something that is not a fraction; write whole numbers above and below the stroke, like 3/4`},
		{"6 3/2 in", `"6 3/2 in" has a fraction of 1 or more after a whole number; write it like 6 1/2`},
		{`7.5' 6"`, "`7.5' 6\"` has part of a foot and inches; write whole feet before inches, like 7'-6 1/2\""},
		{`7' 14"`, "`7' 14\"` has 12 inches or more after the feet; write the feet and what is left under 12 in, like 7'-6 1/2\""},
		{"0x10", `"0x10" has the unit "x", which is not known here; write mm, cm, m, in or ft`},
		{"1_000", `"1_000" is not a length; ` + example},
		{"12\x1b[31m", `"12\x1b[31m" is not a length; ` + example},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			_, err := measure.Parse(tt.text, measure.Millimetre)
			var fault *measure.Error
			require.True(t, errors.As(err, &fault), "%v", err)
			assert.Equal(t, tt.want, err.Error())
		})
	}
}

func TestParseUnit(t *testing.T) {
	for _, u := range measure.Units() {
		got, err := measure.ParseUnit(string(u))
		require.NoError(t, err)
		assert.Equal(t, u, got)
	}
	got, err := measure.ParseUnit(" Inches ")
	require.NoError(t, err)
	assert.Equal(t, measure.Inch, got)
	_, err = measure.ParseUnit("yards")
	assert.EqualError(t, err, `"yards" is not a unit of length; write mm, cm, m, in or ft`)
}

// Feet, a hyphen, inches even when they are nothing, before a fraction too, and inches alone below
// a foot: common practice on American drawings.
func TestFormat(t *testing.T) {
	tests := []struct {
		mm   float64
		unit measure.Unit
		want string
	}{
		{2298.7, measure.Foot, `7'-6 1/2"`},
		{2298.7, measure.Inch, `7'-6 1/2"`},
		{2133.6, measure.Foot, `7'-0"`},
		{25.4 * 96.25, measure.Foot, `8'-0 1/4"`},
		{-25.4 * (12 + 1.0/16), measure.Inch, `-1'-0 1/16"`},
		{1308.1, measure.Foot, `4'-3 1/2"`},
		{165.1, measure.Foot, `6 1/2"`},
		{12.7, measure.Inch, `1/2"`},
		{25.4 / 16, measure.Inch, `1/16"`},
		{25.4 * 12 / 16, measure.Inch, `3/4"`},
		{25.4 * (11 + 15.0/16), measure.Inch, `11 15/16"`},
		{25.4 * (11 + 31.0/32), measure.Inch, `1'-0"`}, // the rounding carries
		{25.4*24 - 0.5, measure.Foot, `2'-0"`},
		{0, measure.Foot, `0"`},
		{-0.1, measure.Foot, `0"`},
		{-2298.7, measure.Foot, `-7'-6 1/2"`},
		{1450, measure.Millimetre, "1450 mm"},
		{1450.5, measure.Millimetre, "1451 mm"},
		{-0.4, measure.Millimetre, "0 mm"},
		{-1450.5, measure.Millimetre, "-1451 mm"},
		{1450, measure.Centimetre, "145.0 cm"},
		{1453.2, measure.Centimetre, "145.3 cm"},
		{1450, measure.Metre, "1.450 m"},
		{999.6, measure.Metre, "1.000 m"},
		{1450, "", "1450 mm"},
		{math.NaN(), measure.Millimetre, "?"},
		{math.Inf(1), measure.Foot, "?"},
		{1e6, measure.Foot, `3280'-10 1/16"`}, // 1 km is 39370.0787 in
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, measure.Format(tt.mm, tt.unit), "%v mm in %v", tt.mm, tt.unit)
	}
	assert.Equal(t, "1450", measure.Figure(1450, measure.Millimetre))
	assert.Equal(t, "1.450", measure.Figure(1450, measure.Metre))
	assert.Equal(t, `7'-6 1/2"`, measure.Figure(2298.7, measure.Foot))
}

func TestPrecise(t *testing.T) {
	tests := []struct {
		mm   float64
		unit measure.Unit
		want string
	}{
		{-40, measure.Millimetre, "-40 mm"},
		{0.4, measure.Millimetre, "0.4 mm"},
		{-0.001, measure.Millimetre, "0 mm"},
		{1200, measure.Millimetre, "1200 mm"},
		{1234.5, measure.Centimetre, "123.45 cm"},
		{1234.5, measure.Metre, "1.2345 m"},
		{2298.7, measure.Foot, `7'-6 1/2"`},
		{10, measure.Inch, `0.394"`},
		{25.4 * 3 / 32, measure.Inch, `3/32"`},
		{25.4 * 37 / 64, measure.Foot, `37/64"`},
		{25.4 * 96.25, measure.Inch, `8'-0 1/4"`},
		{25.4 * 22.786, measure.Inch, `1'-10 13/16"`},
		{30, measure.Inch, `1 3/16"`},
		{math.NaN(), measure.Inch, "?"},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, measure.Precise(tt.mm, tt.unit))
	}
}

// What Format prints, Parse reads, no further off than half of the last step that is printed; and
// printing that again changes nothing.
func FuzzRoundTrip(f *testing.F) {
	for _, mm := range []float64{0, math.Copysign(0, -1), 0.5, 1.5875, 303.99, 304.8, 2298.7, -2298.7, 1e6, 999999.5, 12.7} {
		for i := range measure.Units() {
			f.Add(mm, uint8(i))
		}
	}
	f.Fuzz(func(t *testing.T, mm float64, unit uint8) {
		if !(math.Abs(mm) <= 1e6) {
			t.Skip("longer than any wall")
		}
		u := measure.Units()[int(unit)%len(measure.Units())]
		shown := measure.Format(mm, u)
		back, err := measure.Parse(shown, u)
		require.NoError(t, err, shown)
		half := 0.5
		if u.Imperial() {
			half = 25.4 / 32
		}
		assert.InDelta(t, mm, back, half+1e-9, shown)
		assert.Equal(t, shown, measure.Format(back, u))
		bare, err := measure.Parse(measure.Figure(mm, u), u)
		require.NoError(t, err)
		assert.Equal(t, back, bare)
	})
}

// Whatever is written, the answer is a finite length or one line of words.
func FuzzParse(f *testing.F) {
	for _, text := range []string{"", "7'-6 1/2\"", "2.4 m", "1e9", "½", "٣", "7''", "1/2/3", "\x00", "+-1", "9999999999999999999999999 ft"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		mm, err := measure.Parse(text, measure.Inch)
		if err != nil {
			assert.NotContains(t, err.Error(), "\n")
			return
		}
		assert.False(t, math.IsNaN(mm) || math.IsInf(mm, 0))
	})
}
