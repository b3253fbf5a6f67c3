package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/testkit"
	"mudline/texture/feel"
)

// hand runs the hand command, asking what typed answers with by the line.
func hand(t *testing.T, typed string, args ...string) (out, asked string, err error) {
	t.Helper()
	var outBuf, askBuf bytes.Buffer
	cmd := handCommandAsking(func(cmd *cobra.Command, _ bool) (asker, error) {
		return newLineForm(cmd.Context(), strings.NewReader(typed), &askBuf, nil), nil
	})
	cmd.SilenceUsage, cmd.SilenceErrors = true, true
	cmd.SetArgs(args)
	cmd.SetOut(&outBuf)
	cmd.SetErr(&askBuf)
	err = cmd.ExecuteContext(t.Context())
	return outBuf.String(), askBuf.String(), err
}

func TestHandByOptions(t *testing.T) {
	dir := folder(t, map[string]string{"jar.yaml": "# mine\r\nname: x  # y\r\n"})
	out, asked, err := hand(t, "", dir, "--hands", "practised", "--ball", "firm", "--failure", "falls-apart", "--ribbon", "30mm", "--ribbon", "1.25in, 1 1/2 in",
		"--colour-moist", "10yr 4/3", "--grit", "Some")
	require.NoError(t, err)
	assert.Empty(t, asked, "with options nothing is asked")
	for _, want := range []string{"recorded in " + filepath.Join(dir, "jar.yaml"), "30 mm (1.18 in), 31.75 mm (1.25 in), 38.1 mm (1.5 in)", "10YR 4/3"} {
		assert.Contains(t, out, want)
	}
	text, err := os.ReadFile(filepath.Join(dir, "jar.yaml"))
	require.NoError(t, err)
	assert.Equal(t, "# mine\r\nname: x  # y\r\n\r\nhand:\r\n  hands: practised\r\n  colour-moist: \"10YR 4/3\"\r\n  ball: firm\r\n  failure: falls apart\r\n"+
		"  ribbons: [30 mm, 31.75 mm, 38.1 mm]\r\n  grit: some\r\n", string(text))

	// Earlier answers are replaced only when that is asked for.
	_, _, err = hand(t, "", dir, "--ball", "weak")
	require.ErrorContains(t, err, "holds a hand test already")
	_, _, err = hand(t, "", dir, "--ball", "weak", "--replace")
	require.NoError(t, err)
	text, err = os.ReadFile(filepath.Join(dir, "jar.yaml"))
	require.NoError(t, err)
	assert.Equal(t, "# mine\r\nname: x  # y\r\n\r\nhand:\r\n  ball: weak\r\n", string(text))
	assert.Equal(t, []string{"jar.yaml"}, names(t, dir))
}

// Soil that smells of fuel is to be put down: nothing is made of the rest, and no
// further test is asked for.
func TestHandStopsAtFuel(t *testing.T) {
	dir := folder(t, map[string]string{"jar.yaml": "hand: {ball: firm, ribbons: [30 mm]}\n"})
	told, asked, err := hand(t, "2\n\n\n\n\nfuel\n", dir, "--replace")
	require.NoError(t, err)
	assert.Contains(t, told, "Do not handle it any")
	assert.Contains(t, told, "ask your local environment\noffice", "where to turn")
	assert.NotContains(t, asked, "knead it until")
	rec, err := readRecord(dir)
	require.NoError(t, err)
	assert.Equal(t, feel.Observation{Hands: feel.Practised, Smell: feel.Fuel, Ball: feel.FirmBall, RibbonsMM: []float64{30}}, *rec.Hand, "earlier answers stay")

	out, _, err := hand(t, "", folder(t, nil), "--smell", "fuel", "--ball", "firm")
	require.NoError(t, err)
	assert.Contains(t, out, "Do not handle it any")
	assert.NotContains(t, out, "in 100")
}

func TestHandStartsARecord(t *testing.T) {
	dir := folder(t, map[string]string{"a_2h.jpg": ""})
	_, _, err := hand(t, "", dir, "--smell", "sour")
	require.NoError(t, err)
	rec, err := readRecord(dir)
	require.NoError(t, err)
	assert.Equal(t, filepath.Base(dir), rec.Name)
	assert.Equal(t, feel.Observation{Smell: feel.Sour}, *rec.Hand)
}

// answers are typed to all questions, one a line.
const answers = "2\nyes\n\n1\n12YR 4/3\n10YR 4/3\nearthy\n9\n1\n3\n\n30 mm, 1 1/4 in\n2\n\nno\n"

func TestHandAsksByTheLine(t *testing.T) {
	dir := folder(t, map[string]string{"jar.yaml": "temp: 20\n"})
	_, asked, err := hand(t, answers, dir)
	require.NoError(t, err)
	rec, err := readRecord(dir)
	require.NoError(t, err)
	assert.Equal(t, feel.Observation{Hands: feel.Practised, StonesOut: feel.Yes, Moistened: feel.Yes, ColourMoist: "10YR 4/3", Smell: feel.Earthy,
		Kneaded: feel.Yes, Ball: feel.FirmBall, RibbonsMM: []float64{30, 31.75}, Grit: feel.Some, Sticky: feel.None}, *rec.Hand)
	for _, q := range feel.Questions() {
		assert.Contains(t, asked, q.Do.String()+"\n"+q.How.String()+"\n"+q.Ask.String(), "what to do, how it is done, and then the question")
	}
	assert.Contains(t, asked, `That cannot be taken: "12YR 4/3"`)
	assert.Contains(t, asked, `That cannot be taken: "9" is not an answer for kneaded: yes, no`)

	// Again: earlier answers are kept by Enter and taken back by a minus sign.
	_, asked, err = hand(t, "yes\n"+strings.Repeat("\n", 7)+"-\n\n4 cm\n\n\n\n", dir)
	require.NoError(t, err)
	assert.Contains(t, asked, "Enter keeps 30, 31.75 mm, a minus sign takes it back")
	rec, err = readRecord(dir)
	require.NoError(t, err)
	assert.Equal(t, feel.Practised, rec.Hand.Hands)
	assert.Empty(t, rec.Hand.Failure)
	assert.Empty(t, rec.Hand.Ball, "taken back")
	assert.Equal(t, []float64{40}, rec.Hand.RibbonsMM)
}

func TestHandLeavesTheFileAlone(t *testing.T) {
	const before = "temp: 20\nhand:\n  ball: weak # mine\n"
	dir := folder(t, map[string]string{"jar.yaml": before})
	for name, c := range map[string]struct {
		typed string
		want  error
	}{
		"the input ends half way":     {"yes\n1\n2\n", errStopped},
		"the change is not confirmed": {"no\n", nil},
	} {
		_, _, err := hand(t, c.typed, dir)
		require.ErrorIs(t, err, c.want, name)
		text, err := os.ReadFile(filepath.Join(dir, "jar.yaml"))
		require.NoError(t, err)
		assert.Equal(t, before, string(text), name)
	}
	empty := folder(t, nil)
	_, asked, err := hand(t, strings.Repeat("\n", 13), empty)
	require.NoError(t, err)
	assert.Contains(t, asked, "was left as it was")
	assert.Empty(t, names(t, empty), "nothing answered, nothing written")

	ctx, stop := context.WithCancel(t.Context())
	stop()
	silent, _ := io.Pipe() // a person who types nothing
	require.ErrorIs(t, newLineForm(ctx, silent, io.Discard, nil).put(&feel.Observation{}, feel.Questions()), errStopped)
}

func TestHandIntoAFolderThatCannotBeWritten(t *testing.T) {
	dir := folder(t, map[string]string{"jar.yaml": "temp: 20\n"})
	require.NoError(t, os.Chmod(filepath.Dir(dir), 0o755)) // for others than who made it
	require.NoError(t, os.Chmod(dir, 0o555))
	defer os.Chmod(dir, 0o755)
	testkit.AsAnyone(t, func() {
		_, _, err := hand(t, "", dir, "--ball", "weak")
		assert.ErrorContains(t, err, "cannot write into")
	})
	text, err := os.ReadFile(filepath.Join(dir, "jar.yaml"))
	require.NoError(t, err)
	assert.Equal(t, "temp: 20\n", string(text))
}

func TestHandMistakesAreExplained(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": ""})
	bad := folder(t, map[string]string{"jar.yaml": "colour: red\n"})
	flow := folder(t, map[string]string{"jar.yaml": "{temp: 20}\n"})
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "one folder is needed, 0 were given"},
		{[]string{"", "--ball", "firm"}, "the name of the folder is empty"},
		{[]string{filepath.Join(dir, "plto-7"), "--ball", "firm"}, "plto-7 does not exist"},
		{[]string{filepath.Join(dir, "a.jpg"), "--ball", "firm"}, "is not a folder"},
		{[]string{bad, "--ball", "firm"}, "colour: unknown key"},
		{[]string{flow, "--ball", "firm"}, "add these lines yourself:\nhand:\n  ball: firm"},
		{[]string{dir, "--ball", "mushy"}, `--ball: "mushy" is not an answer for ball: none, weak, firm`},
		{[]string{dir, "--ribbon", "3 ft"}, `--ribbon: "3 ft" has the unit "ft": write mm, cm or in`},
		{[]string{dir, "--ball", ""}, "the options give no answers"},
	} {
		out, _, err := hand(t, "", c.args...)
		var input *inputError
		require.ErrorAs(t, err, &input, c.args)
		assert.ErrorContains(t, err, c.want)
		assert.Empty(t, out)
	}
	assert.Equal(t, []string{"a.jpg"}, names(t, dir))

	// Without a terminal and without options there is nobody to ask.
	cmd := handCommand()
	cmd.SetArgs([]string{dir})
	cmd.SetIn(strings.NewReader(answers))
	cmd.SetErr(io.Discard)
	cmd.SilenceUsage, cmd.SilenceErrors = true, true
	require.ErrorContains(t, cmd.ExecuteContext(t.Context()), "there is no terminal to ask in, and the options give no answers")
}

func TestHandJSONAndWhatHandsSay(t *testing.T) {
	read := func(args ...string) (got handRecorded) {
		out, _, err := hand(t, "", append([]string{folder(t, nil), "--json"}, args...)...)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal([]byte(out), &got))
		return got
	}
	clayey := read("--hands", "practised", "--stones-out", "yes", "--moistened", "yes", "--kneaded", "yes", "--ball", "firm", "--failure", "deforms",
		"--ribbon", "80, 85, 90, 80, 85 mm", "--grit", "none", "--sticky", "strong")
	assert.Equal(t, reading.Version, clayey.Version)
	assert.Empty(t, clayey.Hand.Questions)
	assert.InDelta(t, 84, clayey.Hand.RibbonMM.Mean, 1e-9)
	assert.InDelta(t, 4.1833, *clayey.Hand.RibbonMM.SD, 1e-4) // sqrt(70/4)
	assert.Equal(t, 5, clayey.Hand.RibbonMM.Count)
	require.NotEmpty(t, clayey.Hand.Classes)
	// Thien 1979: a ribbon over 5 cm without grit is one of the clays.
	assert.Contains(t, clayey.Hand.Classes[0].Name, "clay")
	assert.Greater(t, clayey.Hand.Clay.Value, 40.0)

	// Thien 1979: no ball is a sand.
	sandy := read("--hands", "practised", "--moistened", "yes", "--ball", "none", "--ribbon", "none", "--grit", "strong", "--smooth", "none", "--sticky", "none")
	assert.Equal(t, "sand", sandy.Hand.Classes[0].Name)
	assert.Nil(t, sandy.Hand.RibbonMM.SD, "one ribbon has no spread")

	colour := read("--colour-dry", "brown", "--smell", "sour")
	assert.Contains(t, colour.Hand.Text, "says nothing about the texture")
	assert.Empty(t, colour.Hand.Classes)
}

// Given as options, what cannot be true of one handful is asked back and not written.
func TestHandOptionsThatConflict(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--ball", "none", "--ribbon", "50mm"}, "no ball holds together, but a ribbon of 50 mm (1.97 in)"},
		{[]string{"--ball", "firm", "--ribbon", "900mm", "--json"}, "One ribbon is 900 mm (35.4 in) long"},
		{[]string{"--grit", "strong", "--smooth", "strong", "--sticky", "none", "--ribbon", "80mm"}, "only one of them can be felt above all"},
	} {
		dir := folder(t, nil)
		out, _, err := hand(t, "", append([]string{dir}, c.args...)...)
		var input *inputError
		require.ErrorAs(t, err, &input, c.args)
		assert.ErrorContains(t, err, "nothing was written")
		assert.ErrorContains(t, err, c.want)
		assert.Empty(t, out)
		assert.Empty(t, names(t, dir))
	}
}

// By the line it is asked again, as often as it takes, and only what does not go
// together; whoever stands by it has it recorded, and nothing is made of it.
func TestHandAsksBack(t *testing.T) {
	start := strings.Repeat("\n", 7) + "1\n\n50 mm\n\n\n\n" // no ball, and a ribbon of 50 mm
	dir := folder(t, nil)
	out, asked, err := hand(t, start+"yes\n\n900 mm\nyes\n30 mm\nyes\n3\n\n", dir)
	require.NoError(t, err)
	for _, want := range []string{"no ball holds together, but a ribbon of 50 mm", "Answer that again? Type yes or no: ", "One ribbon is 900 mm", "Step 1 of 2: Squeeze a ball"} {
		assert.Contains(t, asked, want)
	}
	assert.Contains(t, out, "From the hands alone")
	rec, err := readRecord(dir)
	require.NoError(t, err)
	assert.Equal(t, feel.Observation{Ball: feel.FirmBall, RibbonsMM: []float64{30}}, *rec.Hand)

	dir = folder(t, nil)
	out, _, err = hand(t, start+"no\n", dir)
	require.NoError(t, err)
	assert.Contains(t, out, "do not fit together")
	assert.NotContains(t, out, "From the hands alone")
	for _, line := range strings.Split(out, "\n")[1:] { // the first names a file
		assert.LessOrEqual(t, len(line), handWidth, line)
	}
	rec, err = readRecord(dir)
	require.NoError(t, err)
	assert.Equal(t, feel.Observation{Ball: feel.NoBall, RibbonsMM: []float64{50}}, *rec.Hand)

	_, _, err = hand(t, start, folder(t, nil)) // the input ends before an answer
	require.ErrorIs(t, err, errStopped)
}

// TestScreenForm drives the form as keys do.
func TestScreenForm(t *testing.T) {
	const down, up, end, enter, back = "\x1b[B", "\x1b[A", "\x1b[F", "\r", "\x1b[Z"
	on := func(page string, keys ...string) typed { return typed{page + " of 13", keys} }
	for name, c := range map[string]struct {
		keys []typed
		want feel.Observation
		err  error
	}{
		"answers": {[]typed{on("1", end, enter), on("2", down, down, up, enter), on("3", "b", enter), on("4", enter), on("5", enter), on("6", enter),
			on("7", down, enter), on("8", back), on("7", down, enter), on("8", down, down, down, enter), on("9", enter), on("10", "3 cm, 4 cm", enter),
			on("11", enter), on("12", enter), on("13", enter)},
			feel.Observation{Hands: feel.Practised, StonesOut: feel.Yes, ColourDry: "b", Kneaded: feel.No, Ball: feel.FirmBall, RibbonsMM: []float64{30, 40}}, nil},
		"a wrong answer is not passed": {[]typed{on("1", enter), on("2", enter), on("3", "12YR 4/3", enter), {"the number of a Munsell hue is above 0", []string{"\x03"}}}, feel.Observation{}, errStopped},
		"fuel ends it":                 {[]typed{on("1", end, enter), on("2", enter), on("3", enter), on("4", enter), on("5", enter), on("6", end, enter)}, feel.Observation{Hands: feel.Practised, Smell: feel.Fuel}, nil},
		"Ctrl-C":                       {[]typed{on("1", down, enter), on("2", "\x03")}, feel.Observation{}, errStopped},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			var got feel.Observation
			err := typing(t, c.keys...).put(&got, feel.Questions())
			require.ErrorIs(t, err, c.err)
			assert.Equal(t, c.want, got)
		})
	}
	for name, c := range map[string]struct {
		key         string
		usual, want bool
	}{"Enter alone says yes": {enter, true, true}, "Enter alone says no": {enter, false, false}, "n": {"n", true, false}, "y": {"y", false, true}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			yes, err := typing(t, typed{"Answer that again?", []string{c.key}}).confirm("Two answers do not go together.", "Answer that again?", c.usual)
			require.NoError(t, err)
			assert.Equal(t, c.want, yes)
		})
	}
}

// typed is what somebody types once the screen says something.
type typed struct {
	seen string
	keys []string
}

// typing is a form on a screen before which somebody looks and types. A question
// comes by a message of its own after the key that asked for it, so a key is
// typed only when its question is shown, however long that takes.
func typing(t *testing.T, all ...typed) screenForm {
	const looks = "\x1b[I" // a terminal's word for being looked at, which answers nothing
	ctx, stop := context.WithTimeout(t.Context(), 2*time.Minute)
	in, keys := io.Pipe()
	var shown atomic.Value
	shown.Store("")
	look := func(m tea.Model, msg tea.Msg) tea.Msg {
		if _, is := msg.(tea.FocusMsg); !is {
			return msg
		}
		shown.Store(ansi.Strip(m.View().Content))
		return nil
	}
	t.Cleanup(func() {
		assert.NotErrorIs(t, ctx.Err(), context.DeadlineExceeded, "the form still waits for a key; it shows\n%s", shown.Load())
		stop()
		in.Close()
	})
	go func() {
		for _, now := range all {
			for !strings.Contains(shown.Load().(string), now.seen) {
				if _, err := io.WriteString(keys, looks); err != nil || ctx.Err() != nil {
					return
				}
				time.Sleep(5 * time.Millisecond)
			}
			for _, k := range now.keys {
				if _, err := io.WriteString(keys, k); err != nil {
					return
				}
			}
		}
	}()
	return screenForm{ctx, nil, in, io.Discard, []tea.ProgramOption{tea.WithWindowSize(80, 24), tea.WithFilter(look)}}
}

func TestReadTakesTheHandAndTheGround(t *testing.T) {
	dir := folder(t, map[string]string{"a_2h.jpg": "", "jar.yaml": "crop: bean\nhand: {ball: weak, grit: some, ribbons: [10 mm, 12 mm]}\n"})
	r := command(t, nil, "read", dir, "--organic-matter", "3%", "--crop", "Tomato", "--rooting-depth", "12in", "--daily-use", "0.2 in a day",
		"--hand", "ball=firm", "--hand", "ribbon=30mm", "--hand", "ribbons=32mm", "--hand", "colour-dry=10yr 4/3")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Equal(t, feel.Observation{Ball: feel.FirmBall, Grit: feel.Some, RibbonsMM: []float64{30, 32}, ColourDry: "10YR 4/3"}, *r.stated.Hand)
	assert.InDelta(t, 3, *r.stated.OrganicMatter, 1e-9)
	assert.Equal(t, "tomato", r.stated.Crop)
	assert.InDelta(t, 304.8, r.stated.RootingDepthMM, 1e-9)
	assert.InDelta(t, 5.08, r.stated.DailyUseMM, 1e-9)
	assert.Nil(t, command(t, nil, "read", folder(t, map[string]string{"a.jpg": ""})).stated.Hand)

	for _, c := range []struct{ flag, value, want string }{
		{"--hand", "firm", "--hand: \"firm\" has no =: write KEY=ANSWER"},
		{"--hand", "bounce=yes", `the hand test has no "bounce"`},
		{"--hand", "ball=mushy", "none, weak, firm"},
		{"--hand", "ribbon=30,32", "can be one length or two"},
		{"--organic-matter", "120", "--organic-matter: organic matter 120 is outside 0 to 100 %"},
		{"--crop", " ", "--crop is given without a value"},
		{"--crop", "moon rock", "is not known; use one of"},
		{"--rooting-depth", "1mm", "is outside 50 to 3000 mm"},
		{"--daily-use", "5kg", `has the unit "kg"`},
	} {
		r := command(t, nil, "read", dir, c.flag, c.value)
		assert.Equal(t, statusInput, r.status, c.value)
		assert.Contains(t, r.err, c.want)
		assert.False(t, r.analysisRan)
	}
	r = command(t, nil, "read", dir, "--hand", "ball=firm", "--hand", "ball=weak")
	assert.Contains(t, r.err, "ball is given 2 times")
}
