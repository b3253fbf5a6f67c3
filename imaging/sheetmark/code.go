package sheetmark

import (
	"fmt"
	"strings"
)

// Identity tells one sheet from another: 20 bits, written as four letters or digits.
type Identity uint32

// Identities is how many there are.
const Identities = 1 << 20

// letters are those of Crockford's base 32, without I, L, O and U.
const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// String is the identity in four letters or digits.
func (id Identity) String() string {
	var b [4]byte
	for i := range b {
		b[i] = letters[id>>(15-5*i)&31]
	}
	return string(b[:])
}

// ParseIdentity reads what String writes, in either case, with O for 0 and I or L
// for 1.
func ParseIdentity(s string) (Identity, error) {
	plain := strings.NewReplacer("O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(strings.TrimSpace(s)))
	id := Identity(0)
	for _, c := range plain {
		v := strings.IndexRune(letters, c)
		if v < 0 || len(plain) != 4 {
			return 0, fmt.Errorf("%q is not the identity of a sheet: it has four letters or digits, as in K7QF", s)
		}
		id = id<<5 | Identity(v)
	}
	if len(plain) != 4 {
		return 0, fmt.Errorf("%q is not the identity of a sheet: it has four letters or digits, as in K7QF", s)
	}
	return id, nil
}

// A mark is a black square of Modules fields a side: a border of one field, and
// within it inner x inner fields, black for 1.
const (
	// Modules is how many fields a mark has along a side.
	Modules = inner + 2
	inner   = 6
)

// Code is what one mark says: which sheet, which paper and which of its marks.
type Code struct {
	Identity Identity
	Paper    Paper
	Mark     int
}

// Fields are the inner fields of the mark, row by row from the top left; true is
// black. 20 bits are the identity, 1 the paper, 4 the mark, and the last 11 check the
// others.
func (c Code) Fields() (f [inner * inner]bool) {
	v := c.word()
	for i := range f {
		f[i] = v>>(inner*inner-1-i)&1 == 1
	}
	return f
}

const checkBits = inner*inner - 25

func (c Code) word() uint64 {
	data := uint64(c.Identity)<<5 | uint64(c.Paper&1)<<4 | uint64(c.Mark&15)
	return (data<<checkBits | check(data)) ^ mask
}

// mask keeps codes of few bits from making marks of one colour: alternating fields.
const mask = 0xA5699A5A6

// check is the remainder of the data by x^11 + x^9 + x^8 + x^7 + x^5 + x^3 + x^2 + x +
// 1, started from all ones: one of the two polynomials of this degree by which any four
// wrong fields in 36 are noticed, found by trying all (TestCheck).
func check(data uint64) uint64 {
	const poly, all = 0x3af, 1<<checkBits - 1
	r := uint64(all)
	for i := 24; i >= 0; i-- {
		bit := data >> i & 1
		high := r >> (checkBits - 1) & 1
		r = r << 1 & all
		if high != bit {
			r ^= poly
		}
	}
	return r & all
}

// codeOf reads fields; ok is false where the check does not hold or there is no such
// mark.
func codeOf(f [inner * inner]bool) (c Code, ok bool) {
	v := uint64(0)
	for _, b := range f {
		v <<= 1
		if b {
			v |= 1
		}
	}
	v ^= mask
	data := v >> checkBits
	c = Code{Identity: Identity(data >> 5), Paper: Paper(data >> 4 & 1), Mark: int(data & 15)}
	return c, check(data) == v&(1<<checkBits-1) && c.Mark < Marks
}

// turned is the mark turned by a quarter clockwise, as fields.
func turned(f [inner * inner]bool) (g [inner * inner]bool) {
	for r := range inner {
		for c := range inner {
			g[c*inner+inner-1-r] = f[r*inner+c]
		}
	}
	return g
}

// mirrored is the mark with left and right exchanged.
func mirrored(f [inner * inner]bool) (g [inner * inner]bool) {
	for r := range inner {
		for c := range inner {
			g[r*inner+inner-1-c] = f[r*inner+c]
		}
	}
	return g
}
