package texture

import (
	"fmt"
	"math"

	"mudline/internal/words"
)

// Ranges of what a reading accepts.
const (
	MinDepthMM  = 20.0
	MaxDepthMM  = 1000.0
	MaxElapsedS = 100 * 24 * 3600.0
	MaxPhotos   = 60
)

// checkRange reports a value outside lo..hi, or not a number.
func checkRange(what words.Message, v, lo, hi float64, unit string) error {
	if math.IsNaN(v) || v < lo || v > hi {
		return words.Say("soil.outside", words.Told("what", what), words.Figures("value", v, 6), words.Figures("low", lo, 6), words.Figures("high", hi, 6), words.Name("unit", unit))
	}
	return nil
}

// checkShare checks a share of the water depth, and tells of it in percent.
func checkShare(what words.Message, v float64) error { return checkRange(what, 100*v, 0, 100, " %") }

// quantity is the name of what is checked; only those that a person may state are words of
// the catalogues.
func quantity(name string) words.Message { return words.WordOf("quantity", name) }

func validate(obs []Observation, s Setup) error {
	if err := s.validate(); err != nil {
		return err
	}
	if len(obs) == 0 || len(obs) > MaxPhotos {
		return words.Say("soil.photos", words.Whole("photos", len(obs)), words.Whole("most", MaxPhotos))
	}
	lines := 0
	for i, o := range obs {
		if err := o.validate(i, s.scaleMM()); err != nil {
			return err
		}
		if i > 0 && o.ElapsedS <= obs[i-1].ElapsedS {
			return fmt.Errorf("photo %d was taken %.6g s after the jar was set down, photo %d at %.6g s; times must rise from photo to photo",
				i+1, o.ElapsedS, i, obs[i-1].ElapsedS)
		}
		for _, h := range []*Height{o.DepositTop, o.SandTop, o.SiltTop} {
			if h != nil {
				lines++
			}
		}
		lines += len(o.Candidates)
	}
	if lines == 0 {
		return fmt.Errorf("no height given in any photo; at least one deposit top, sand top or silt top is needed")
	}
	return nil
}

func (s Setup) validate() error {
	if err := s.System.Validate(); err != nil {
		return err
	}
	if s.WaterDepthMM != 0 {
		if err := checkRange(quantity("water depth"), s.WaterDepthMM, MinDepthMM, MaxDepthMM, " mm"); err != nil {
			return err
		}
		if err := checkRange(quantity("water depth's standard deviation"), s.WaterDepthSDMM, 0, s.WaterDepthMM/2, " mm"); err != nil {
			return err
		}
	}
	if s.TempC != nil {
		if err := checkRange(quantity("water temperature"), *s.TempC, MinTempC, MaxTempC, " C"); err != nil {
			return err
		}
		if err := checkRange(quantity("water temperature's standard deviation"), s.TempSDC, 0, 20, " C"); err != nil {
			return err
		}
	}
	if err := s.Known.validate(); err != nil {
		return err
	}
	return s.Walls.validate(s.WaterDepthMM)
}

func (o Observation) validate(i int, scaleMM float64) error {
	name := func(what string) words.Message {
		return words.Say("soil.of-photo", words.Whole("photo", i+1), words.Told("what", quantity(what)))
	}
	if err := checkRange(name("elapsed time"), o.ElapsedS, 1, MaxElapsedS, " s"); err != nil {
		return err
	}
	if err := checkRange(name("elapsed time's standard deviation"), o.ElapsedSDS, 0, MaxElapsedS, " s"); err != nil {
		return err
	}
	if err := checkShare(name("floating matter"), o.Floating); err != nil {
		return err
	}
	if o.Cloud != nil {
		if err := checkRange(name("cloud"), *o.Cloud, 0, 1, ""); err != nil {
			return err
		}
	}
	below, belowSD, belowName := 0.0, 0.0, "floor"
	for _, h := range []struct {
		kind lineKind
		at   *Height
	}{{sandTop, o.SandTop}, {siltTop, o.SiltTop}, {depositTop, o.DepositTop}} {
		if h.at == nil {
			continue
		}
		line := string(lineOf[h.kind])
		if err := checkShare(name(line), h.at.Share); err != nil {
			return err
		}
		if err := checkShare(name(line+"'s standard deviation"), h.at.SD); err != nil {
			return err
		}
		if below-h.at.Share > outOfOrder*math.Hypot(math.Hypot(h.at.SD, belowSD), modelError[h.kind].mm/scaleMM) {
			return fmt.Errorf("photo %d: %s at %.6g %% of the water depth lies below the %s at %.6g %%; layers must follow sand, silt, clay upwards",
				i+1, line, 100*h.at.Share, belowName, 100*below)
		}
		below, belowSD, belowName = h.at.Share, h.at.SD, line
	}
	for _, c := range o.Candidates {
		if err := o.validateCandidate(c, name); err != nil {
			return err
		}
	}
	return nil
}

func (o Observation) validateCandidate(c Candidate, name func(string) words.Message) error {
	if err := checkShare(name("candidate's height"), c.Share); err != nil {
		return err
	}
	if err := checkShare(name("candidate's standard deviation"), c.SD); err != nil {
		return err
	}
	if err := checkRange(name("candidate's odds of the sand's top"), c.SandOdds, 0, 1, ""); err != nil {
		return err
	}
	return checkRange(name("candidate's odds of the silt's top"), c.SiltOdds, 0, 1, "")
}

// outOfOrder is by how many standard deviations, what a jar is uneven by among them, a
// line may lie below the one under it: thin layers are read so now and then.
const outOfOrder = 4.0
