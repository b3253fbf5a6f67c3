package browsertest

import (
	permissions "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
)

// film is the file the browser's camera shows; without it there is a test picture.
var film string

// CameraShows makes the camera of the browser show a film without end: JPEG
// pictures one after the other in a file, 30 in a second. It is called before the
// first page is opened.
func CameraShows(mjpeg string) { film = mjpeg }

// device are the browser's options for its camera.
func device() []chromedp.ExecAllocatorOption {
	options := []chromedp.ExecAllocatorOption{chromedp.Flag("use-fake-device-for-media-stream", true)}
	if film != "" {
		options = append(options, chromedp.Flag("use-file-for-fake-video-capture", film))
	}
	return options
}

// MayUseCamera lets the pages of an origin use the camera, or forbids it, as a
// person does when asked.
func (p *Page) MayUseCamera(origin string, may bool) {
	p.t.Helper()
	setting := permissions.PermissionSettingDenied
	if may {
		setting = permissions.PermissionSettingGranted
	}
	if _, err := chromedp.CallBrowser(p.ctx, permissions.SetPermission, permissions.SetPermissionParams{
		Permission: &permissions.PermissionDescriptor{Name: "camera"}, Setting: setting, Origin: origin}); err != nil {
		p.t.Fatal(err)
	}
}

// Room sets how many bytes the pages of an origin may store.
func (p *Page) Room(origin string, bytes float64) {
	p.t.Helper()
	call(p, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: origin, QuotaSize: &bytes})
}
