package measure

import "fmt"

// grams in a pound, exactly, and in a sixteenth of it, an ounce: NIST Handbook 44, appendix C (from memory).
const (
	pound = 453.59237
	ounce = pound / 16
)

// Mass returns so many grams as people say them who measure lengths in u: in grams or kilograms, with
// inches and feet in ounces or pounds: to a tenth, kilograms to a hundredth.
func Mass(grams float64, u Unit) string {
	switch {
	case u.Imperial() && grams >= pound-ounce/20:
		return fmt.Sprintf("%.1f lb", grams/pound)
	case u.Imperial():
		return fmt.Sprintf("%.1f oz", grams/ounce)
	case grams >= 999.95:
		return fmt.Sprintf("%.2f kg", grams/1000)
	}
	return fmt.Sprintf("%.1f g", grams)
}
