// Package layoutfile keeps a layout in a file that a person can read and edit, one line a piece.
//
// What Write writes, Read reads back to the last bit.
package layoutfile

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
)

// Write writes the layout of the work. The error is the writer's, or says which piece has no
// place that can be written.
func Write(w io.Writer, work holemap.Work) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, preamble, oneLine(work.Title), work.Map.Fingerprint)
	fmt.Fprintf(out, "seed: %d\n", work.Layout.Seed)
	if len(work.Layout.Pieces) == 0 {
		fmt.Fprint(out, "pieces: []\n")
		return out.Flush()
	}
	fmt.Fprint(out, "pieces:\n")
	var line []byte
	kinds, faces := words(work)
	for _, p := range work.Layout.Pieces {
		if !p.At.Finite() || math.IsNaN(float64(p.Heading)) || math.IsInf(float64(p.Heading), 0) {
			return fmt.Errorf("piece %d has no place", p.ID)
		}
		line = appendPiece(line[:0], p, kinds[p.Kind], faces[p.Face])
		if _, err := out.Write(line); err != nil {
			return err
		}
	}
	return out.Flush()
}

const preamble = `# Layout of %s
#
# Where every piece hangs, one line a piece. at is the centre of the area of its outline, in mm from the
# left end and the foot of the face; heading is in degrees clockwise from straight up. To move or turn
# a piece, change its numbers, and draw the layout as it is then with pack --layout. With locked: true
# in its line a piece stays where it is when the rest is laid anew.
#
# Fingerprint of the holes as they are written here: %s

`

func oneLine(title string) string { return strings.Join(strings.Fields(title), " ") }

// words returns what the file calls every kind, and every face with its wall.
func words(work holemap.Work) (kinds, faces []string) {
	for _, k := range work.Kinds {
		kinds = append(kinds, word(k.Code))
	}
	for _, f := range work.Site.Faces {
		faces = append(faces, word(work.Site.Room.Walls[f.Wall].Name)+", face: "+word(f.Name))
	}
	return kinds, faces
}

func appendPiece(b []byte, p scatter.Piece, kind, face string) []byte {
	b = append(b, "- {id: "...)
	b = strconv.AppendInt(b, int64(p.ID), 10)
	b = append(b, ", kind: "...)
	b = append(b, kind...)
	b = append(b, ", wall: "...)
	b = append(b, face...)
	b = append(b, ", at: ["...)
	b = strconv.AppendFloat(b, p.At.X, 'f', -1, 64)
	b = append(b, ", "...)
	b = strconv.AppendFloat(b, p.At.Y, 'f', -1, 64)
	b = append(b, "], heading: "...)
	b = strconv.AppendFloat(b, float64(p.Heading), 'f', -1, 64)
	if p.Locked {
		b = append(b, ", locked: true"...)
	}
	return append(b, "}\n"...)
}

// plainWord is what can stand in YAML without quotation marks and is taken for text by every
// reader, unless it is one of the words that stand for something else.
var plainWord = regexp.MustCompile(`^\pL[\pL\pM\p{Nd} _-]*[\pL\p{Nd}]$|^[A-MO-XZa-mo-xz]$`)

// word returns text as it stands in the file.
func word(text string) string {
	switch strings.ToLower(text) {
	case "null", "true", "false", "yes", "no", "on", "off", "nan", "inf":
	default:
		if plainWord.MatchString(text) {
			return text
		}
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}
