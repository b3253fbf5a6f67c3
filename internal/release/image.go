package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"time"
)

// The types of the OCI image format, version 1.1 (Open Container Initiative).
const (
	typeIndex    = "application/vnd.oci.image.index.v1+json"
	typeManifest = "application/vnd.oci.image.manifest.v1+json"
	typeConfig   = "application/vnd.oci.image.config.v1+json"
	typeLayer    = "application/vnd.oci.image.layer.v1.tar+gzip"
)

// descriptor names a blob by its content.
type descriptor struct {
	MediaType string            `json:"mediaType"`
	Digest    string            `json:"digest"`
	Size      int               `json:"size"`
	Platform  *platform         `json:"platform,omitempty"`
	Notes     map[string]string `json:"annotations,omitempty"`
}

type platform struct {
	Architecture string `json:"architecture"`
	OS           string `json:"os"`
}

// layout is an OCI image layout: blobs by digest, and an index.
type layout struct{ blobs []file }

func digest(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

func (l *layout) add(mediaType string, data []byte) descriptor {
	l.blobs = append(l.blobs, file{name: "blobs/sha256/" + digest(data), data: data})
	return descriptor{MediaType: mediaType, Digest: "sha256:" + digest(data), Size: len(data)}
}

func (l *layout) addJSON(mediaType string, v any) (descriptor, error) {
	data, err := json.Marshal(v)
	return l.add(mediaType, data), err
}

// nobody is who the program runs as in a container.
const nobody = "65532:65532"

// image writes one image for all processors: the program, its licences, and nothing else,
// not even a shell.
func (r *release) image(programs []built) error {
	var l layout
	var manifests []descriptor
	for _, b := range programs {
		d, err := r.imageFor(&l, b)
		if err != nil {
			return err
		}
		manifests = append(manifests, d)
	}
	index := map[string]any{"schemaVersion": 2, "mediaType": typeIndex, "manifests": manifests}
	all, err := l.addJSON(typeIndex, index)
	if err != nil {
		return err
	}
	all.Notes = map[string]string{"org.opencontainers.image.ref.name": r.version}
	top, err := json.Marshal(map[string]any{"schemaVersion": 2, "mediaType": typeIndex, "manifests": []descriptor{all}})
	if err != nil {
		return err
	}
	files := append(l.blobs, file{name: "index.json", data: top}, file{name: "oci-layout", data: []byte(`{"imageLayoutVersion":"1.0.0"}`)})
	return r.write(fmt.Sprintf("mudline-%s-image.tar", r.version), func() ([]byte, error) { return tarred(under("", files), r.when) })
}

// imageFor adds the image for one processor.
func (r *release) imageFor(l *layout, b built) (descriptor, error) {
	documents, err := r.documents(b.licences)
	if err != nil {
		return descriptor{}, err
	}
	files := append(under("usr/share/doc/mudline", documents),
		file{name: "usr/bin/mudline", data: b.program, program: true},
		file{name: "etc/passwd", data: []byte("mudline:x:65532:65532:mudline:/:/sbin/nologin\n")})
	plain, err := tarred(under("", files), r.when)
	if err != nil {
		return descriptor{}, err
	}
	packed, err := gzipped(plain)
	if err != nil {
		return descriptor{}, err
	}
	layer := l.add(typeLayer, packed)
	config, err := l.addJSON(typeConfig, map[string]any{
		"created": r.when.Format(time.RFC3339), "architecture": b.arch, "os": "linux",
		"config": map[string]any{
			"User": nobody, "Entrypoint": []string{"/usr/bin/mudline"}, "WorkingDir": "/",
			"Labels": map[string]string{
				"org.opencontainers.image.title": "mudline", "org.opencontainers.image.licenses": "MIT",
				"org.opencontainers.image.version": r.version, "org.opencontainers.image.revision": r.commit,
			},
		},
		"rootfs":  map[string]any{"type": "layers", "diff_ids": []string{"sha256:" + digest(plain)}},
		"history": []map[string]string{{"created": r.when.Format(time.RFC3339), "created_by": "make release"}},
	})
	if err != nil {
		return descriptor{}, err
	}
	d, err := l.addJSON(typeManifest, map[string]any{
		"schemaVersion": 2, "mediaType": typeManifest, "config": config, "layers": []descriptor{layer},
	})
	d.Platform = &platform{Architecture: b.arch, OS: "linux"}
	return d, err
}
