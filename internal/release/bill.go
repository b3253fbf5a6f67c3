package main

import (
	"bytes"
	"debug/buildinfo"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// bill writes what one program is made of, as CycloneDX 1.6 (ECMA-424). The parts are
// those that the program itself names, which Go has written into it.
func (r *release) bill(b built) error {
	info, err := buildinfo.Read(bytes.NewReader(b.program))
	if err != nil {
		return err
	}
	known := map[string]part{}
	for _, p := range b.parts {
		known[p.path] = p
	}
	type licence struct {
		License struct {
			ID string `json:"id"`
		} `json:"license"`
	}
	type component struct {
		Type     string    `json:"type"`
		Ref      string    `json:"bom-ref"`
		Name     string    `json:"name"`
		Version  string    `json:"version"`
		PURL     string    `json:"purl"`
		Licences []licence `json:"licenses,omitempty"`
	}
	made := func(kind, path, version string, licences []string) component {
		purl := fmt.Sprintf("pkg:golang/%s@%s", path, version)
		c := component{Type: kind, Ref: purl, Name: path, Version: version, PURL: purl}
		for _, id := range licences {
			var l licence
			l.License.ID = spdx(id)
			c.Licences = append(c.Licences, l)
		}
		return c
	}
	program := made("application", "mudline", r.version, []string{"MIT"})
	std := strings.TrimPrefix(info.GoVersion, "go")
	parts := []component{made("library", "std", std, known["std"].licences)}
	refs := []string{parts[0].Ref}
	for _, d := range info.Deps {
		if d.Replace != nil {
			d = d.Replace
		}
		p, ok := known[d.Path]
		if !ok {
			return fmt.Errorf("%s is in the program, but its licence was not looked for", d.Path)
		}
		parts = append(parts, made("library", d.Path, d.Version, p.licences))
		refs = append(refs, parts[len(parts)-1].Ref)
	}
	document := map[string]any{
		"$schema": "http://cyclonedx.org/schema/bom-1.6.schema.json", "bomFormat": "CycloneDX", "specVersion": "1.6", "version": 1,
		"metadata": map[string]any{
			"timestamp": r.when.Format(time.RFC3339), "component": program,
			"properties": []map[string]string{{"name": "target", "value": b.target.String()}, {"name": "commit", "value": r.commit}},
		},
		"components":   parts,
		"dependencies": []map[string]any{{"ref": program.Ref, "dependsOn": refs}},
	}
	data, err := json.MarshalIndent(document, "", " ")
	if err != nil {
		return err
	}
	return r.write(fmt.Sprintf("mudline-%s-%s.cdx.json", r.version, b.target), func() ([]byte, error) { return append(data, '\n'), nil })
}

// spdx is the identifier in today's list of SPDX: those of the GNU licences say whether
// later versions count too.
func spdx(id string) string {
	if id == "LGPL-3.0" {
		return "LGPL-3.0-or-later"
	}
	return id
}
