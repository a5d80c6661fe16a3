package makinggood

import (
	"fmt"
	"io"
	"strings"

	"wallshoal/wall/measure"
)

// Volume returns cm³ as filler is sold where people measure in the unit: in ml and litres, or in fluid
// ounces, quarts and gallons of the United States. A gallon is 231 in³, four quarts, and 128 fluid ounces
// (NIST Handbook 44, Appendix C).
func Volume(cm3 float64, units measure.Unit) string {
	if !units.Imperial() {
		switch {
		case cm3 >= 995:
			return fmt.Sprintf("%.2f l", cm3/1000)
		case cm3 >= 9.95:
			return fmt.Sprintf("%.0f ml", cm3)
		}
		return fmt.Sprintf("%.1f ml", cm3)
	}
	const inch = 2.54
	ounces := cm3 / (inch * inch * inch * 231 / 128)
	switch {
	case ounces >= 128:
		return fmt.Sprintf("%.2f gal", ounces/128)
	case ounces >= 32:
		return fmt.Sprintf("%.2f qt", ounces/32)
	case ounces < 0.095:
		return fmt.Sprintf("%.2f fl oz", ounces)
	}
	return fmt.Sprintf("%.1f fl oz", ounces)
}

// Area returns m² as paint is reckoned where people measure in the unit: in square metres or square feet,
// small areas finer.
func Area(m2 float64, units measure.Unit) string {
	if !units.Imperial() {
		if m2 < 0.0995 {
			return fmt.Sprintf("%.3f m²", m2)
		}
		return fmt.Sprintf("%.2f m²", m2)
	}
	const foot = 0.3048
	feet := m2 / (foot * foot)
	if feet < 0.995 {
		return fmt.Sprintf("%.2f sq ft", feet)
	}
	return fmt.Sprintf("%.1f sq ft", feet)
}

// WriteMarkdown writes l as a page for people, in the units of its plan, and returns the first error.
func WriteMarkdown(out io.Writer, l List) error {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	volume := func(cm3 float64) string { return Volume(cm3, l.Units) }
	area := func(m2 float64) string { return Area(m2, l.Units) }
	length := func(mm float64) string { return measure.Precise(mm, l.Units) }
	line("# Taking down: %s\n", plain(l.Title))
	line("Fingerprint **%s**. %d holes to fill; the volumes are of cylinders, and %.0f %% is added for waste.\n", l.Fingerprint, l.Holes, 100*l.Waste)
	if l.Earlier > 0 {
		line("Of them %d are of pieces that hung elsewhere before.\n", l.Earlier)
	}
	line("- Filler: %s\n- To touch up: %s, a circle of %s over every hole\n- To repaint, where whole faces must be done from corner to corner: %s\n",
		volume(l.Filler), area(l.Touched), length(l.TouchUp), area(l.Repainted))
	line("Paint is bought by area: the tin says how much it covers, and a second coat takes as much again.\n")
	line("| Wall | Face | Surface | Bit | Depth | Holes | They hold |\n| --- | --- | --- | ---: | ---: | ---: | ---: |")
	for _, f := range l.Faces {
		for _, way := range f.Ways {
			line("| %s | %s | %s | %s | %s | %d | %s |", plain(f.Wall), plain(f.Face), f.Surface, length(way.Bit), length(way.Depth), way.Holes, volume(way.Volume))
		}
	}
	line("\n| Wall | Face | Holes | Filler | Touch up | Repaint |\n| --- | --- | ---: | ---: | ---: | ---: |")
	for _, f := range l.Faces {
		line("| %s | %s | %d | %s | %s | %s |", plain(f.Wall), plain(f.Face), f.Holes, volume(f.Filler), area(f.Touched), area(f.Repainted))
	}
	if len(l.Faces) > 1 {
		line("| **All** |  | %d | %s | %s | %s |", l.Holes, volume(l.Filler), area(l.Touched), area(l.Repainted))
	}
	line("\n## What comes off\n\nFixings to take out; what is glued or hammered in may have to stay, sunk below the surface:\n")
	for _, f := range l.Fixings {
		line("- %d × %s", f.Count, plain(f.Name))
	}
	line("\nPieces that can hang again:\n")
	for _, p := range l.Pieces {
		line("- %d × %s %s", p.Pieces, plain(p.Code), plain(p.Name))
	}
	line("\n## Cautions\n\n%s\n", Standing)
	for _, c := range l.Cautions {
		line("- %s Source: %s.", c.Text, c.Source)
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// plain returns text on one line, in which nothing is taken for Markdown.
func plain(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	for _, mark := range []string{`\`, "|", "*", "_", "`", "[", "]", "<", "#"} {
		text = strings.ReplaceAll(text, mark, `\`+mark)
	}
	return text
}
