package record_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/record"
)

func TestStem(t *testing.T) {
	for file, want := range map[string]string{
		"plot7_1min.jpg": "plot7", "plot7_2h.jpg": "plot7", "plot-7_1min.jpg": "plot-7", "plot-7_2h (1).jpg": "plot-7",
		"plot7-48h.HEIC": "plot7", "jar 3 2h.jpg": "jar 3", "open-11_t000091s.jpg": "open-11", "open-11_t177600s.jpg": "open-11",
		"1min_plot7.jpg": "plot7", "1min-plot-7.jpg": "plot-7", "2 days old orchard.jpg": "old orchard", "old orchard 2 days.jpg": "old orchard",
		"jar2days.jpg": "jar", "plot7_2d3h.jpg": "plot7", "plot7_2d_3h_002.jpg": "plot7", "1min_7.jpg": "7", "7_1min.jpg": "7",
		"brook_1.5h.jpg": "brook", "brook_91s.jpg": "brook", "plot7_2026-06-05_1min.jpg": "plot7", "plot7_20260605_113820.jpg": "plot7",
		"plot_003.jpg": "plot", "plot7_001.jpg": "plot7", "plot7.jpg": "plot7", "Plot 7 by the brook_2h.jpg": "Plot 7 by the brook",
		"plot7_IMG_0412.jpg": "plot7", "beet=1, \"x\"_2h.jpg": "beet=1, \"x\"", "جرة ١_1min.jpg": "جرة ١", "🌱🌱_2h.jpg": "🌱🌱",
		"IMG_0412.jpg": "", "DSC01234.JPG": "", "PXL_20260605_113820123.jpg": "", "IMG-20260605-WA0012.jpg": "", "20260605_113820.jpg": "",
		"photo_2026-06-05_11-38-20.jpg": "", "image.jpg": "", "0412.jpg": "", "IMG_0412_1min.jpg": "", "1min.jpg": "", "2h (1).jpg": "1",
		"3F2504E0-4F89-11D3-9A0C-0305E82C3301.jpg": "", "IMG_0412 copy.jpg": "",
		// names as phones, cameras, messengers and screens give them
		"WhatsApp Image 2026-06-05 at 6.00.30 PM (1).jpeg": "", "PXL_20260605_180030123.MP.jpg": "", "P1010023.JPG": "", "FB_IMG_1780000000000.jpg": "",
		"signal-2026-06-05-180030.jpeg": "", "received_1234567.jpeg": "", "Screen Shot 2026-06-05 at 18.00.30.png": "", "Foto 1.jpg": "", "imagen (3).png": "",
		"PXL_20260605_plot7_2h.jpg": "PXL_20260605_plot7", "tarro 3 2 días.jpg": "tarro 3", "bocal7_2jours.jpg": "bocal7", "IMG_2h.jpg": "",
	} {
		assert.Equal(t, want, record.Stem(file), file)
	}
}
