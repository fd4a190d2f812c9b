package guide

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
)

// The writer of the PDF puts the date into it, and the writer of fonts the
// time into every font. The same plan shall give the same bytes, so both are
// taken out again.

var errOddPDF = errors.New("the PDF is not laid out as expected")

var (
	creationDate = regexp.MustCompile(`/CreationDate ?\(D:[^()]*\)`)
	streamLength = regexp.MustCompile(`/Length (\d+)`)
)

// steadyPDF takes date and times out of a PDF with a plain cross-reference
// table whose entries are all in use, and writes the table anew.
func steadyPDF(b []byte) ([]byte, error) {
	tail := bytes.LastIndex(b, []byte("startxref\n"))
	if tail < 0 {
		return nil, errOddPDF
	}
	var table, n int
	if _, err := fmt.Sscanf(string(b[tail:]), "startxref\n%d", &table); err != nil || table < 0 || table >= tail {
		return nil, errOddPDF
	}
	if _, err := fmt.Sscanf(string(b[table:tail]), "xref\n0 %d\n", &n); err != nil {
		return nil, errOddPDF
	}
	const entry = 20
	first := bytes.IndexByte(b[table+5:], '\n') + table + 6
	trailer := first + n*entry
	if n < 1 || trailer > tail {
		return nil, errOddPDF
	}
	type object struct{ number, at int }
	objects := make([]object, 0, n)
	for i := 1; i < n; i++ {
		at, err := strconv.Atoi(string(b[first+i*entry : first+i*entry+10]))
		if err != nil || at >= table {
			return nil, errOddPDF
		}
		objects = append(objects, object{i, at})
	}
	slices.SortFunc(objects, func(a, b object) int { return a.at - b.at })

	var out bytes.Buffer
	out.Grow(len(b))
	start := table
	if len(objects) > 0 {
		start = objects[0].at
	}
	out.Write(b[:start])
	places := make([]int, n)
	for i, o := range objects {
		end := table
		if i+1 < len(objects) {
			end = objects[i+1].at
		}
		body, err := steadyObject(b[o.at:end])
		if err != nil {
			return nil, err
		}
		places[o.number] = out.Len()
		out.Write(body)
	}
	at := out.Len()
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n", n)
	for _, p := range places[1:] {
		fmt.Fprintf(&out, "%010d 00000 n \n", p)
	}
	out.Write(b[trailer:tail])
	fmt.Fprintf(&out, "startxref\n%d\n%%%%EOF\n", at)
	return out.Bytes(), nil
}

// steadyObject is one object without date or, if it is a font, without time.
func steadyObject(b []byte) ([]byte, error) {
	from := bytes.Index(b, []byte("stream\n"))
	if from < 0 {
		return creationDate.ReplaceAll(b, nil), nil
	}
	to := bytes.LastIndex(b, []byte("\nendstream"))
	head, data := b[:from], b[from+len("stream\n"):max(to, from+len("stream\n"))]
	if to < 0 || !bytes.Contains(head, []byte("/FlateDecode")) {
		return b, nil
	}
	r, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, errOddPDF
	}
	var magic [4]byte
	if _, err := io.ReadFull(r, magic[:]); err != nil || magic != [4]byte{0, 1, 0, 0} {
		return b, nil // a page, not a font
	}
	font, err := io.ReadAll(r)
	if err != nil {
		return nil, errOddPDF
	}
	font = append(magic[:], font...)
	steadyFont(font)
	var packed bytes.Buffer
	w := zlib.NewWriter(&packed)
	w.Write(font)
	if err := w.Close(); err != nil {
		return nil, err
	}
	length := fmt.Appendf(nil, "/Length %d", packed.Len())
	return slices.Concat(streamLength.ReplaceAll(head, length), []byte("stream\n"), packed.Bytes(), b[to:]), nil
}

// steadyFont sets the time a font was last changed to the time it was made,
// and its checksums to match: OpenType specification, head table.
func steadyFont(b []byte) {
	const created, modified, adjustment, magic = 20, 28, 8, 0xB1B0AFBA
	if len(b) < 12 {
		return
	}
	tables := int(binary.BigEndian.Uint16(b[4:]))
	for i := range tables {
		at := 12 + 16*i
		if at+16 > len(b) {
			return
		}
		if string(b[at:at+4]) != "head" {
			continue
		}
		from, size := int(binary.BigEndian.Uint32(b[at+8:])), int(binary.BigEndian.Uint32(b[at+12:]))
		end := from + (size+3)&^3
		if size < modified+8 || end > len(b) {
			return
		}
		head := b[from:end]
		copy(head[modified:modified+8], head[created:created+8])
		binary.BigEndian.PutUint32(head[adjustment:], 0)
		binary.BigEndian.PutUint32(b[at+4:], checksum(head))
		binary.BigEndian.PutUint32(head[adjustment:], magic-checksum(b))
		return
	}
}

// checksum adds up a font's words.
func checksum(b []byte) uint32 {
	var sum uint32
	for ; len(b) >= 4; b = b[4:] {
		sum += binary.BigEndian.Uint32(b)
	}
	for i, c := range b {
		sum += uint32(c) << (24 - 8*i)
	}
	return sum
}
