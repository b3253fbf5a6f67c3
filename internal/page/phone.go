package page

import (
	"fmt"
	"net"
	"strings"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// LocalAddresses are the IPv4 addresses of this machine that others on a private
// network reach it by (RFC 1918), in the system's order.
func LocalAddresses() []net.IP {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var out []net.IP
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsPrivate() {
			out = append(out, n.IP)
		}
	}
	return out
}

// Code is a QR code (ISO/IEC 18004) of a text for a terminal: two rows of
// modules to a line of half blocks, dark on light whatever the terminal's
// colours, inside the quiet zone of four modules.
func Code(text string) (string, error) {
	m, err := qrcode.NewQRCodeWriter().Encode(text, gozxing.BarcodeFormat_QR_CODE, 0, 0, map[gozxing.EncodeHintType]interface{}{
		gozxing.EncodeHintType_MARGIN: 4,
	})
	if err != nil {
		return "", fmt.Errorf("no code could be made of %q: %w", text, err)
	}
	var b strings.Builder
	for y := 0; y < m.GetHeight(); y += 2 {
		b.WriteString("\x1b[30;107m")
		for x := range m.GetWidth() {
			upper, lower := m.Get(x, y), y+1 < m.GetHeight() && m.Get(x, y+1)
			switch {
			case upper && lower:
				b.WriteRune('█')
			case upper:
				b.WriteRune('▀')
			case lower:
				b.WriteRune('▄')
			default:
				b.WriteRune(' ')
			}
		}
		b.WriteString("\x1b[0m\n")
	}
	return b.String(), nil
}
