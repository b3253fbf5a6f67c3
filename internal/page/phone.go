package page

import (
	"fmt"
	"net"
	"strings"

	"rsc.io/qr"
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

// quiet is the width of the empty zone round a code, in modules (ISO/IEC 18004).
const quiet = 4

// Code is a QR code (ISO/IEC 18004) of a text for a terminal: two rows of
// modules to a line of half blocks, dark on light whatever the terminal's
// colours, inside the quiet zone.
func Code(text string) (string, error) {
	code, err := qr.Encode(text, qr.L)
	if err != nil {
		return "", fmt.Errorf("no code could be made of %q: %w", text, err)
	}
	var b strings.Builder
	for y := -quiet; y < code.Size+quiet; y += 2 {
		b.WriteString("\x1b[30;107m")
		for x := -quiet; x < code.Size+quiet; x++ {
			// Outside of the code all is light.
			switch upper, lower := code.Black(x, y), code.Black(x, y+1); {
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
