//go:build js

package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"syscall/js"

	"mudline/imaging"
	"mudline/internal/desk"
	"mudline/internal/jar"
	"mudline/internal/reading"
)

// call is one function the page may call: arguments in, JSON or bytes out.
type call func(args []js.Value) (any, error)

func main() {
	d := desk.New(imaging.PureGo{})
	for name, f := range calls(d) {
		js.Global().Get("mudline").Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any { return answer(d, f, args) }))
	}
	js.Global().Get("mudline").Call("ready")
	select {}
}

// answer runs a call and gives {value} or {refused} or {error}: a fault in one
// call must not end the program, since the jar would be lost with it.
func answer(d *desk.Desk, f call, args []js.Value) (out any) {
	defer func() {
		if p := recover(); p != nil {
			out = map[string]any{"error": fmt.Sprint("a fault of the program: ", p)}
		}
	}()
	v, err := f(args)
	var refusal *reading.Refusal
	if errors.As(err, &refusal) {
		text, _ := json.Marshal(refusal)
		return map[string]any{"refused": string(text)}
	}
	if err != nil {
		return map[string]any{"error": d.Say(err)}
	}
	if b, ok := v.([]byte); ok {
		return map[string]any{"bytes": toJS(b)}
	}
	text, err := json.Marshal(v)
	if err != nil {
		return map[string]any{"error": err.Error()}
	}
	return map[string]any{"json": string(text)}
}

func calls(d *desk.Desk) map[string]call {
	ctx := context.Background()
	return map[string]call{
		// open(name, file, record, pixels|null, width, height, fullWidth, fullHeight)
		"open": func(a []js.Value) (any, error) {
			data := fromJS(a[1])
			var decoded *jar.Decoded
			if !a[3].IsNull() {
				w, h := a[4].Int(), a[5].Int()
				pix := fromJS(a[3])
				if len(pix) != 4*w*h {
					return nil, fmt.Errorf("%d bytes are no picture of %d x %d", len(pix), w, h)
				}
				decoded = &jar.Decoded{Picture: &image.RGBA{Pix: pix, Stride: 4 * w, Rect: image.Rect(0, 0, w, h)},
					Full: image.Pt(a[6].Int(), a[7].Int())}
			}
			return d.Open(a[0].String(), data, decoded, []byte(a[2].String()))
		},
		"forget": func(a []js.Value) (any, error) { d.Forget(a[0].String()); return true, nil },
		"clear":  func([]js.Value) (any, error) { d.Clear(); return true, nil },
		// read(record, names)
		"read": func(a []js.Value) (any, error) {
			var names []string
			if err := json.Unmarshal([]byte(a[1].String()), &names); err != nil {
				return nil, err
			}
			return d.Read(ctx, []byte(a[0].String()), names)
		},
		"preview": func(a []js.Value) (any, error) { return d.Preview([]byte(a[0].String())) },
		// ask(name, request): everything that is JSON in and JSON out.
		"ask": func(a []js.Value) (any, error) { return d.Ask(a[0].String(), []byte(a[1].String())) },
		// pack(record, reading|"", names, files) and unpack(file)
		"pack": func(a []js.Value) (any, error) {
			files := make([]desk.NamedFile, a[2].Length())
			for i := range files {
				files[i] = desk.NamedFile{Name: a[2].Index(i).String(), Data: fromJS(a[3].Index(i))}
			}
			return desk.PackJSON([]byte(a[0].String()), []byte(a[1].String()), files)
		},
		"unpack": func(a []js.Value) (any, error) {
			p, err := desk.ReadPack(fromJS(a[0]))
			if err != nil {
				return nil, err
			}
			d.Unpacked = p.Photos
			return p.Summary()
		},
		"unpacked": func(a []js.Value) (any, error) { return d.TakeUnpacked(a[0].String()) },
	}
}

func toJS(b []byte) js.Value {
	out := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(out, b)
	return out
}

func fromJS(v js.Value) []byte {
	b := make([]byte, v.Get("length").Int())
	js.CopyBytesToGo(b, v)
	return b
}
