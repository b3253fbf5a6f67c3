//go:build js

package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"io"
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

// answer runs a call and gives {value}, {refused}, {said} or {error}: a fault in one
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
		return map[string]any{"said": d.Say(err)}
	}
	switch v := v.(type) {
	case []byte:
		return map[string]any{"bytes": toJS(v)}
	case pieceOf:
		left := make([]any, len(v.left))
		for i, name := range v.left {
			left[i] = name
		}
		return map[string]any{"bytes": toJS(v.bytes), "left": left}
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
		// open(name, file, pixels|null, width, height, fullWidth, fullHeight, record)
		"open": photo(func(name string, data []byte, decoded *jar.Decoded, more []js.Value) (any, error) {
			return d.Open(name, data, decoded, []byte(more[0].String()))
		}),
		// glance and regard take the same without a record
		"glance": photo(func(name string, data []byte, decoded *jar.Decoded, _ []js.Value) (any, error) {
			return d.Glance(name, data, decoded)
		}),
		"regard": photo(func(name string, data []byte, decoded *jar.Decoded, _ []js.Value) (any, error) {
			return d.Regard(name, data, decoded)
		}),
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
		// pack(record, reading|"", names, files); backup takes the same and gives {left}
		// with the next piece of the file, endBackup the last one.
		"pack": func(a []js.Value) (any, error) {
			return desk.PackJSON([]byte(a[0].String()), []byte(a[1].String()), namedFiles(a[2], a[3]))
		},
		"backup": func(a []js.Value) (any, error) {
			piece, left, err := d.BackUp([]byte(a[0].String()), []byte(a[1].String()), namedFiles(a[2], a[3]))
			return pieceOf{piece, left}, err
		},
		"endBackup": func([]js.Value) (any, error) { return d.EndBackUp() },
		// unfold(size, read(from, to)) gives the folders of a file of jars, unpack(folder) one
		// of them and unpacked(name) each of its photos.
		"unfold": func(a []js.Value) (any, error) { return d.Unfold(blob{a[1]}, int64(a[0].Float())) },
		"unpack": func(a []js.Value) (any, error) { return d.Unpack(a[0].String()) },
		// heic(decoder): a function from the bytes of a file to its picture, see decodeHEIC.
		"heic":     func(a []js.Value) (any, error) { imaging.DecodeHEIC = decodeHEIC(a[0]); return true, nil },
		"unpacked": func(a []js.Value) (any, error) { return d.TakeUnpacked(a[0].String()) },
	}
}

// photo is a call with a photo: its name, its bytes, and where the browser decoded it its
// pixels with their size and that of the photo; else null.
func photo(f func(name string, data []byte, decoded *jar.Decoded, more []js.Value) (any, error)) call {
	return func(a []js.Value) (any, error) {
		data := fromJS(a[1])
		if a[2].IsNull() {
			return f(a[0].String(), data, nil, a[7:])
		}
		w, h := a[3].Int(), a[4].Int()
		pix := fromJS(a[2])
		if len(pix) != 4*w*h {
			return nil, fmt.Errorf("%d bytes are no picture of %d x %d", len(pix), w, h)
		}
		decoded := &jar.Decoded{Picture: &image.RGBA{Pix: pix, Stride: 4 * w, Rect: image.Rect(0, 0, w, h)}, Full: image.Pt(a[5].Int(), a[6].Int())}
		return f(a[0].String(), data, decoded, a[7:])
	}
}

// pieceOf is a piece of a file, and the photos that were left out of it.
type pieceOf struct {
	bytes []byte
	left  []string
}

func namedFiles(names, data js.Value) []desk.NamedFile {
	files := make([]desk.NamedFile, names.Length())
	for i := range files {
		files[i] = desk.NamedFile{Name: names.Index(i).String(), Data: fromJS(data.Index(i))}
	}
	return files
}

// blob reads a file of the browser's by a function that gives a part of it.
type blob struct{ read js.Value }

// ReadAt gives bytes of the file; the error is that the browser cannot read it any more.
func (b blob) ReadAt(p []byte, at int64) (n int, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("the file cannot be read: %v", fault)
		}
	}()
	n = js.CopyBytesToGo(p, b.read.Invoke(float64(at), float64(at+int64(len(p)))))
	if n < len(p) {
		err = io.EOF
	}
	return n, err
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
