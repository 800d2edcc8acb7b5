package tree_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// A check is dead when nothing at all hangs on its answers: each row lets one
// thing hang on the answers of `idle`, or seems to.
func TestDeadChecks(t *testing.T) {
	const plain = `idle: {ask: "Which colour?", why: It tells., minutes: 0, place: recall, answers: {red: Red, blue: Blue}}`
	answers := func(red string) string { return strings.Replace(plain, "red: Red", "red: {say: Red, "+red+"}", 1) }
	for _, tt := range []struct {
		name, idle, then string
		more             map[string]string // replacements elsewhere, in shared/questions.yaml
		dead             bool
	}{
		{name: "leads the same way", idle: plain, then: "side", dead: true},
		{name: "leads the same way but for not sure", idle: plain, then: "{unsure: {end: {}}, otherwise: side}", dead: true},
		{name: "ends that name the same", idle: plain, then: "{red: {end: {possible: [bent]}}, blue: {end: {possible: [bent]}}, unsure: side}", dead: true},
		{name: "sound or not", idle: strings.Replace(plain, "blue: Blue", "blue: {say: Blue, normal: true}", 1), then: "side", dead: true},
		{name: "leads another way", idle: plain, then: "{red: {end: {}}, unsure: side, otherwise: side}"},
		{name: "ends that differ", idle: plain, then: "{red: {end: {likely: [bent]}}, blue: {end: {possible: [bent]}}, unsure: side}"},
		{name: "shows", idle: answers("shows: bent"), then: "side"},
		{name: "clears", idle: answers("clears: bent"), then: "side"},
		{name: "mends", idle: answers("mended: worn"), then: "side"},
		{name: "drive", idle: answers("drive: care"), then: "side"},
		{name: "opens", idle: answers("opens: shake"), then: "side"},
		{name: "only-if", idle: plain, then: "side", more: map[string]string{"needs: {tool: have}": "needs: {tool: have}\n    only-if: {idle: red}"}},
		{name: "needs", idle: plain, then: "side", more: map[string]string{"needs: {tool: have}": "needs: {tool: have, idle: red}"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fsys := fstest.MapFS{}
			for name, f := range goodBook(t) {
				fsys[name] = f
			}
			edit := func(name, from, to string) {
				text := string(fsys[name].Data)
				require.Contains(t, text, from)
				fsys[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, from, to, 1))}
			}
			edit("complaints/pull.yaml", "begin: side", "begin: idle")
			edit("complaints/pull.yaml", "path:\n", "path:\n  idle: {because: It is free., then: "+tt.then+"}\n")
			edit("complaints/pull.yaml", "questions:\n", "questions:\n  "+tt.idle+"\n")
			for from, to := range tt.more {
				edit("shared/questions.yaml", from, to)
			}
			b, err := tree.Load(fsys, calcs)
			require.NoError(t, err)
			var dead []string
			for _, c := range b.Dead() {
				dead = append(dead, c.ID)
			}
			if tt.dead {
				assert.Equal(t, []string{"idle"}, dead)
			} else {
				assert.Empty(t, dead)
			}
		})
	}
}
