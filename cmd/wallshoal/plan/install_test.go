package plan_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/export/stand"
)

func TestHowFarOneReaches(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound))
	require.NoError(t, err)
	assert.Equal(t, stand.UsualReach(), p.Install.Reach)
	p, err = plan.Read("p.yaml", []byte(sound+"\ninstall: {reach: {width: 900 mm, height: 6 ft}}\n"))
	require.NoError(t, err)
	assert.InDelta(t, 900, p.Install.Reach.Width, 1e-9)
	assert.InDelta(t, 1828.8, p.Install.Reach.Height, 1e-9)
	assert.InDelta(t, 3000, p.Install.Reach.Ladder, 1e-9)
	_, err = plan.Read("p.yaml", []byte(sound+"\ninstall: {reach: {width: 10 mm, ladder: 1 m, heigth: 2 m}}\n"))
	assert.ErrorContains(t, err, "install.reach.width")
	assert.ErrorContains(t, err, "install.reach.ladder")
	assert.ErrorContains(t, err, "did you mean height")
}

func TestHowAFixingIsPutIn(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound+"\ninstall: {fixings: [{fixing: pin, how: Tap it in as deep as it is drilled.}]}\n"))
	require.NoError(t, err)
	require.Len(t, p.Install.Fixings, 1)
	assert.Equal(t, "Tap it in as deep as it is drilled.", p.Install.Fixings[0].How)
	_, err = plan.Read("p.yaml", []byte(sound+"\ninstall: {fixings: [{fixing: pinn, how: x}, {fixing: pin}, {fixing: pin, how: a}, {fixing: pin, how: b}]}\n"))
	assert.ErrorContains(t, err, "did you mean")
	assert.ErrorContains(t, err, "install.fixings[1].how")
	assert.ErrorContains(t, err, "already")
}
