package batch

import (
	"path"
	"slices"
	"strings"

	"mudline/internal/record"
	"mudline/internal/sorting"
	"mudline/internal/words"
)

// loose sorts the photos that lie in the batch's own folder, and reads its
// records: NAME.jar.yaml is of the jar NAME, jar.yaml holds what is the same for
// all jars.
func (p *planner) loose(photos, records []string) error {
	s := &sorter{planner: p, rest: photos, jars: map[string]*Jar{}}
	for _, r := range records {
		if r == record.FileName {
			rec, err := p.parse(r)
			if err != nil {
				return &RecordError{err}
			}
			p.common = rec
			if keys := rec.OfOneJar(); keys != nil {
				p.Notes = append(p.Notes, words.Say("batch.of-one-jar", words.Name("record", r), words.Names("keys", "and", keys)))
			}
			continue
		}
		s.ownRecord(r)
	}
	s.byName()
	s.byCommonRecord()
	s.byLikeness()
	for _, key := range s.order {
		j := s.jars[key]
		if len(j.Photos) == 0 {
			p.Notes = append(p.Notes, words.Say("batch.record-of-none", words.Name("record", j.Records[0])))
			continue
		}
		p.add(*j)
	}
	if len(s.jars) > 0 && p.common != nil {
		p.checkCommon(photos)
	}
	return nil
}

// checkCommon says where the record for all jars names a photo that is not there.
func (p *planner) checkCommon(photos []string) {
	for file := range p.common.Photos {
		if !slices.Contains(photos, file) {
			p.Notes = append(p.Notes, words.Say("batch.not-beside", words.Name("record", record.FileName), words.Name("file", file)))
		}
	}
	slices.SortFunc(p.Notes, func(a, b words.Message) int { return strings.Compare(a.String(), b.String()) })
}

// Why photos are of one jar, where package sorting is not asked.
var (
	whyFolder = words.Say("sorting.folder")
	whyName   = words.Say("sorting.name")
)

// whyListed is that a record lists them.
func whyListed(rel string) words.Message {
	return words.Say("sorting.listed", words.Name("record", rel))
}

// sortedBy says whether that is why the photos are of this jar.
func (j *Jar) sortedBy(why words.Message) bool { return j.Why.String() == why.String() }

// sorter sorts loose photos into jars.
type sorter struct {
	*planner
	rest  []string
	jars  map[string]*Jar
	order []string
}

// jar is the jar of a name.
func (s *sorter) jar(name string, why words.Message) *Jar {
	key := sorting.Key(name)
	j := s.jars[key]
	if j == nil {
		j = &Jar{ID: name, Name: name, Why: why}
		s.jars[key] = j
		s.order = append(s.order, key)
	}
	return j
}

// take gives the photos a jar may have and leaves the others.
func (s *sorter) take(wanted func(file string) bool) (taken []string) {
	s.rest = slices.DeleteFunc(slices.Clone(s.rest), func(file string) bool {
		if wanted(file) {
			taken = append(taken, file)
			return true
		}
		return false
	})
	return taken
}

// ownRecord gives a jar the photos its record lists.
func (s *sorter) ownRecord(rel string) {
	j := s.jar(strings.TrimSuffix(rel, ownRecord), whyListed(rel))
	rec, err := s.parse(rel)
	j.Records = append(j.Records, rel)
	if err != nil {
		j.Bad = badRecord(err)
		return
	}
	j.Record = *rec
	if rec.Name != "" {
		j.Name = rec.Name
	}
	j.Photos = s.take(func(file string) bool { _, ok := rec.Photos[file]; return ok })
	if len(j.Photos) < len(rec.Photos) {
		for file := range rec.Photos {
			if !slices.Contains(j.Photos, file) {
				j.Bad = badRecord(words.Say("batch.not-there", words.Name("record", rel), words.Name("file", file)))
			}
		}
	}
}

// byName sorts by what the names say.
func (s *sorter) byName() {
	for _, file := range s.take(func(file string) bool { return record.Stem(file) != "" }) {
		j := s.jar(record.Stem(file), whyName)
		if len(j.Photos) == 0 {
			j.Why = whyName
		}
		j.Photos = append(j.Photos, file)
	}
	for _, key := range s.order {
		if j := s.jars[key]; j.sortedBy(whyName) && len(j.Photos) > 1 && !slices.ContainsFunc(j.Photos, timed) {
			s.Notes = append(s.Notes, words.Say("batch.one-jar-by-name", words.Names("photos", "and", j.Photos), words.Name("jar", j.Name)))
		}
	}
}

// timed says whether a photo's name holds its time.
func timed(file string) bool {
	_, _, ok := record.ElapsedFromName(file)
	return ok
}

// byCommonRecord makes one jar of the photos that jar.yaml lists.
func (s *sorter) byCommonRecord() {
	if s.common == nil {
		return
	}
	listed := s.take(func(file string) bool { _, ok := s.common.Photos[file]; return ok })
	if len(listed) == 0 {
		return
	}
	name := s.common.Name
	if name == "" {
		name = path.Base(absolute(s.Root))
	}
	j := s.jar(name, whyListed(record.FileName))
	j.Photos = append(j.Photos, listed...)
}
