package desk

import (
	"bytes"
	"math/rand/v2"

	"mudline/imaging/sheetmark"
	"mudline/internal/backdrop"
	"mudline/internal/words"
)

// sheetRequest asks for the sheet behind a jar; see the options of mudline sheet. An
// empty identity is drawn by lot.
type sheetRequest struct {
	Name     string `json:"name"`
	Paper    string `json:"paper"`
	Identity string `json:"identity"`
}

type sheetAnswer struct {
	Identity string `json:"identity"`
	SVG      string `json:"svg"`
}

func sheet(d *Desk, in sheetRequest) (any, error) {
	s := backdrop.Sheet{Name: in.Name, Language: d.language}
	switch in.Paper {
	case sheetmark.A4.String(), "":
	case sheetmark.Letter.String():
		s.Paper = sheetmark.Letter
	default:
		return nil, words.Say("command.option-is", words.Name("option", "paper"), words.Quoted("given", in.Paper))
	}
	if in.Identity == "" {
		s.Identity = sheetmark.Identity(rand.Uint32N(sheetmark.Identities))
	} else {
		id, err := sheetmark.ParseIdentity(in.Identity)
		if err != nil {
			return nil, err
		}
		s.Identity = id
	}
	p, err := backdrop.Draw(s)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := p.WriteSVG(&b); err != nil {
		return nil, err
	}
	return sheetAnswer{s.Identity.String(), b.String()}, nil
}
