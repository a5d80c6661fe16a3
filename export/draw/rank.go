package draw

import (
	"bytes"
	"encoding/gob"
	"fmt"

	"github.com/go-pdf/fpdf"
)

// rank gives a picture its place among those of a document. The library keeps pictures in a map and
// writes them in the order of their widths, so that two as wide as one another would follow in another
// order from run to run. It cuts a width to whole pixels when it writes it: a millionth of a pixel for each
// picture drawn before sets them in the order of drawing, and shows nowhere. A width can be reached
// only through the library's own gob, whose fields are those of fpdf 0.9.0.
func rank(info *fpdf.ImageInfoType, place int) error {
	var (
		data, smask, pal          []byte
		object, bits              int
		width, height, scale, dpi float64
		space, filter, parameters string
		transparent               []int
	)
	fields := []any{&data, &smask, &object, &width, &height, &space, &pal, &bits, &filter, &parameters, &transparent, &scale, &dpi}
	encoded, err := info.GobEncode()
	if err != nil {
		return err
	}
	in := gob.NewDecoder(bytes.NewReader(encoded))
	for i, f := range fields {
		if err := in.Decode(f); err != nil {
			return fmt.Errorf("field %d: %w", i, err)
		}
	}
	width += float64(place) / 1e6
	var out bytes.Buffer
	to := gob.NewEncoder(&out)
	for i, f := range fields {
		if err := to.Encode(f); err != nil {
			return fmt.Errorf("field %d: %w", i, err)
		}
	}
	return info.GobDecode(out.Bytes())
}
