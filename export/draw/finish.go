package draw

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"strconv"
)

// finish adds to a document what the PDF library has no call for: the wish not to be scaled by
// whoever prints it (ViewerPreferences, PrintScaling None: ISO 32000-1, table 150), the version of
// PDF that has that wish, and an identifier made from the content. Without dated it blanks the
// dates, which the library always writes.
//
// The catalogue is the last object that the library writes, so only the place of the
// cross-reference table moves. The parts of the finished document follow one another; doc is
// part of them.
func finish(doc []byte, dated bool) ([][]byte, error) {
	const catalogue = "/Type /Catalog\n"
	const wish = "/ViewerPreferences <</PrintScaling /None>>\n"
	const trailer = "\ntrailer\n<<\n"
	const start = "\nstartxref\n"

	cut := bytes.LastIndex(doc, []byte(catalogue))
	tail := bytes.LastIndex(doc, []byte(trailer))
	number := bytes.LastIndex(doc, []byte(start))
	if !bytes.HasPrefix(doc, []byte("%PDF-1.")) || cut < 0 || tail < cut || number < tail {
		return nil, errors.New("the PDF library wrote a document of another form")
	}
	cut += len(catalogue)
	tail += len(trailer)
	number += len(start)
	length := bytes.IndexByte(doc[number:], '\n')
	table, err := strconv.Atoi(string(doc[number : number+max(length, 0)]))
	if err != nil {
		return nil, errors.New("the PDF library wrote no place for its cross-reference table")
	}

	if !dated {
		blank(doc, cut)
	}
	sum := sha256.Sum256(doc)
	return [][]byte{
		[]byte("%PDF-1.7"), doc[len("%PDF-1.7"):cut],
		[]byte(wish), doc[cut:tail],
		fmt.Appendf(nil, "/ID [<%x> <%x>]\n", sum[:16], sum[:16]), doc[tail:number],
		strconv.AppendInt(nil, int64(table+len(wish)), 10), doc[number+length:],
	}, nil
}

// blank overwrites the dates of the information object, which stands last before the catalogue at
// end, with as many spaces.
func blank(doc []byte, end int) {
	for _, key := range []string{"/CreationDate (", "/ModDate ("} {
		from := bytes.LastIndex(doc[:end], []byte(key))
		if from < 0 {
			continue
		}
		for i := from; i < end && doc[i] != '\n'; i++ {
			doc[i] = ' '
		}
	}
}
