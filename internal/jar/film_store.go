//go:build !js

package jar

import (
	"bytes"
	"encoding/gob"
	"image"
	"image/draw"
	"image/png"
)

// keptFile is kept as it is stored: the front as a PNG picture.
type keptFile struct {
	Kept  kept
	Front []byte
}

func (k *kept) encode() ([]byte, error) {
	file := keptFile{Kept: *k}
	file.Kept.Front = nil
	if k.Front != nil {
		var b bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, k.Front); err != nil {
			return nil, err
		}
		file.Front = b.Bytes()
	}
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(file)
	return b.Bytes(), err
}

func decodeKept(data []byte) (*kept, error) {
	var file keptFile
	if err := gob.NewDecoder(bytes.NewReader(data)).Decode(&file); err != nil {
		return nil, err
	}
	if file.Front == nil {
		return &file.Kept, nil
	}
	pic, err := png.Decode(bytes.NewReader(file.Front))
	if err != nil {
		return nil, err
	}
	front := image.NewRGBA(image.Rectangle{Max: pic.Bounds().Size()})
	draw.Draw(front, front.Rect, pic, pic.Bounds().Min, draw.Src)
	file.Kept.Front = front
	return &file.Kept, nil
}
