package sheetmark

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/makiuchi-d/gozxing/common/reedsolomon"
	"rsc.io/qr/coding"
)

// The name stands in a QR code (ISO/IEC 18004) of one fixed size, so that it can be
// read at its known place: version 4, 33 fields a side, of whose bytes a third are for
// mending, without a mask of choice.
const (
	qrVersion = coding.Version(4)
	qrLevel   = coding.M
	qrMask    = coding.Mask(0)
	qrFields  = 17 + 4*int(qrVersion)
	// MostName is how many bytes of a name it can hold.
	MostName = 62 - len(qrStart) - 5
	qrStart  = "mudline "
)

// EncodeName is the code with a sheet's identity and a jar's name, which is cut to
// MostName bytes.
func EncodeName(id Identity, name string) (*coding.Code, error) {
	p, err := coding.NewPlan(qrVersion, qrLevel, qrMask)
	if err != nil {
		return nil, err
	}
	c, err := p.Encode(coding.String(strings.TrimSpace(fmt.Sprintf("%s%s %s", qrStart, id, shortened(name)))))
	if err != nil {
		return nil, fmt.Errorf("the name %q cannot be put into a code: %w", name, err)
	}
	return c, nil
}

func shortened(name string) string {
	name = strings.ToValidUTF8(name, "")
	for len(name) > MostName {
		_, n := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-n]
	}
	return name
}

// Name reads the jar's name from the code on the sheet; ok is false where it cannot be
// read or is that of another sheet. A sheet that bends has its code not quite where the
// marks say, so it is looked for about that place.
func (s *Sheet) Name() (name string, ok bool) {
	const step = QRMM / float64(qrFields) / 2
	for _, by := range [...]Point{{0, 0}, {0, step}, {0, -step}, {-step, 0}, {step, 0}, {-step, -step}, {step, step}, {-step, step}, {step, -step}} {
		if name, ok = s.nameAt(Point{QRMid.X + by.X, QRMid.Y + by.Y}); ok {
			return name, true
		}
	}
	return "", false
}

// nameAt is Name if the middle of the code is at a place on the sheet.
func (s *Sheet) nameAt(mid Point) (name string, ok bool) {
	black := s.qrFields(mid)
	p, err := coding.NewPlan(qrVersion, qrLevel, qrMask)
	if err != nil {
		return "", false
	}
	bytes := make([]byte, p.DataBytes+p.CheckBytes)
	for r, row := range p.Pixel {
		for c, pix := range row {
			if role := pix.Role(); role != coding.Data && role != coding.Check {
				continue
			}
			if o := pix.Offset(); black[r][c] != (pix&coding.Black != 0) {
				bytes[o/8] |= 1 << (7 - o%8)
			}
		}
	}
	text, ok := mended(bytes, p)
	if !ok {
		return "", false
	}
	rest, ok := strings.CutPrefix(text, qrStart+s.Identity.String())
	return strings.TrimSpace(rest), ok && utf8.ValidString(rest)
}

// mended puts the bytes of each block right by its check bytes and gives the text.
func mended(bytes []byte, p *coding.Plan) (string, bool) {
	data, check := p.DataBytes/p.Blocks, p.CheckBytes/p.Blocks
	decoder := reedsolomon.NewReedSolomonDecoder(reedsolomon.GenericGF_QR_CODE_FIELD_256)
	var all []byte
	for b := range p.Blocks {
		word := make([]int, 0, data+check)
		for _, v := range bytes[b*data : (b+1)*data] {
			word = append(word, int(v))
		}
		for _, v := range bytes[p.DataBytes+b*check : p.DataBytes+(b+1)*check] {
			word = append(word, int(v))
		}
		if decoder.Decode(word, check) != nil {
			return "", false
		}
		for _, v := range word[:data] {
			all = append(all, byte(v))
		}
	}
	// Four bits say that bytes follow, eight how many.
	const ofBytes = 4
	n := int(all[0]&15)<<4 | int(all[1]>>4)
	if all[0]>>4 != ofBytes || n+2 > len(all) {
		return "", false
	}
	text := make([]byte, n)
	for i := range text {
		text[i] = all[i+1]<<4 | all[i+2]>>4
	}
	return string(text), true
}

// qrFields reads which fields of the code are black: those darker than the middle
// between the darkest and the lightest about them. mid is the code's middle.
func (s *Sheet) qrFields(mid Point) (black [qrFields][qrFields]bool) {
	const field = QRMM / float64(qrFields)
	var v [qrFields][qrFields]float64
	for r := range qrFields {
		for c := range qrFields {
			for _, d := range [...]Point{{0, 0}, {-0.2, -0.2}, {0.2, -0.2}, {-0.2, 0.2}, {0.2, 0.2}} {
				p := s.Stand.Picture(Point{
					mid.X - QRMM/2 + field*(float64(c)+0.5+d.X),
					mid.Y + QRMM/2 - field*(float64(r)+0.5+d.Y)})
				v[r][c] += s.grey.at(p.X, p.Y)
			}
		}
	}
	const about = 4
	for r := range qrFields {
		for c := range qrFields {
			low, high := v[r][c], v[r][c]
			for y := max(r-about, 0); y <= min(r+about, qrFields-1); y++ {
				for x := max(c-about, 0); x <= min(c+about, qrFields-1); x++ {
					low, high = min(low, v[y][x]), max(high, v[y][x])
				}
			}
			black[r][c] = v[r][c] < (low+high)/2
		}
	}
	return black
}
