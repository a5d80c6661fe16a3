package hours_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/hours"
)

func TestReadLog(t *testing.T) {
	for name, text := range map[string]string{
		"plain":         "job,operation,units,minutes\nStair,fold,210,395\n\"Hall, north\",\"drill \"\"A\"\"\",12.5,.5\n",
		"CRLF, no end":  "job,operation,units,minutes\r\nStair,fold,210,395\r\n\"Hall, north\",\"drill \"\"A\"\"\",12.5,.5",
		"mark":          "\ufeffJob, Operation ,UNITS,minutes\nStair,fold,210,395\n\"Hall, north\",\"drill \"\"A\"\"\",12.5,.5\n",
		"other order":   "units,minutes,job,operation\n210,395,Stair,fold\n12.5,0.5,\"Hall, north\",\"drill \"\"A\"\"\"\n",
		"empty columns": "job,operation,units,minutes,,\nStair,fold,210,395,,\n\"Hall, north\",\"drill \"\"A\"\"\",12.5,.5,,\n,,,,,\n",
	} {
		got, err := hours.Read("log.csv", []byte(text))
		require.NoError(t, err, name)
		assert.Equal(t, []hours.Record{
			{Job: "Stair", Operation: "fold", Units: 210, Minutes: 395, Line: 2},
			{Job: "Hall, north", Operation: `drill "A"`, Units: 12.5, Minutes: 0.5, Line: 3},
		}, got, name)
	}
	got, err := hours.Read("log.csv", []byte("job,operation,units,minutes\n'=Stair,fold,1,2\n"))
	require.NoError(t, err)
	assert.Equal(t, "=Stair", got[0].Job, "an apostrophe keeps a spreadsheet from running it")
	got, err = hours.Read("log.csv", []byte("job,operation,units,minutes\n"))
	require.NoError(t, err)
	assert.Empty(t, got)
}

// Every fault is told at once, each at its line and column.
func TestFaultsOfALog(t *testing.T) {
	const head = "job,operation,units,minutes\n"
	for _, c := range []struct{ text, want string }{
		{"", "log.csv:1:1: the file is empty; begin it with the line job,operation,units,minutes"},
		{"job;operation;units;minutes\n", "log.csv:1:1: semicolons stand between the columns; save the table with commas between columns and points before decimals"},
		{"job,doing,units,units\n", "log.csv:1:1: operation: is missing; begin the log with the line job,operation,units,minutes\n" +
			"log.csv:1:1: minutes: is missing; begin the log with the line job,operation,units,minutes\n" +
			"log.csv:1:5: \"doing\" is not a column of a log; keep the columns job, operation, units, minutes\n" +
			"log.csv:1:17: units: stands over two columns; keep one of them"},
		{head + "Küche,=A1,0,1e3\n,fold,\"1,5\",1:30\n", `log.csv:2:7: operation: "=A1" begins like a formula; begin it with a letter or a figure` + "\n" +
			`log.csv:2:11: units: "0" is out of range; write a number above 0 and up to 1000000` + "\n" +
			`log.csv:2:13: minutes: "1e3" is not a plain number; write a number above 0 and up to 1000000` + "\n" +
			`log.csv:3:1: job: is empty; write a name` + "\n" +
			`log.csv:3:7: units: "1,5" is not a plain number; write a number above 0 and up to 1000000, with a point before decimals and nothing between thousands` + "\n" +
			`log.csv:3:13: minutes: "1:30" is not a plain number; write a number above 0 and up to 1000000: 1:30 is 90 minutes`},
		{head + "a,fold,1,=2+3\na,fold,2\n", `log.csv:2:10: minutes: "=2+3" is a formula; save the table with values in place of formulas` + "\n" +
			`log.csv:3:8: minutes: is empty; write a number above 0 and up to 1000000`},
		{head + "a,fold,1,2,5\n", "log.csv:2:12: the row has 5 cells under 4 columns; put a cell that holds a comma in quotation marks, and write a point before decimals"},
		{head + "a,fold,1,2\nA , Fold,3,4\n", `log.csv:3:1: "Fold" of "A" stands in line 2 already; add the two up, or give the jobs names of their own`},
		{head + "a\"b,fold,1,2\nc,\"d\"e,1,2\nf,fold,-1,2\n", `log.csv:2:2: a quotation mark stands inside a cell that does not begin with one; put the whole cell in quotation marks, and write "" for one inside it` + "\n" +
			`log.csv:3:5: the quotation marks of a cell close before its end, or never; put the whole cell in quotation marks, and write "" for one inside it` + "\n" +
			`log.csv:4:8: units: "-1" is not a plain number; write a number above 0 and up to 1000000`},
		{head + "a,\"fold\n,1,2\nb,fold,1,2\n", `log.csv:2:1: a quotation mark opens in this row and does not close in it; put the whole cell in quotation marks, and write "" for one inside it`},
		{head + "a,\"fo\nld\",1,2\nb,fold,1,x\n", `log.csv:2:3: operation: "fo\u000ald" holds a line break or a tab; write it on one line` + "\n" +
			`log.csv:4:10: minutes: "x" is not a plain number; write a number above 0 and up to 1000000`},
		{head + "a\x00,fold,1,2\n", "log.csv:2:2: a hidden character (U+0000) stands here; remove it"},
		{head + "a,f\xff,1,2\n", "log.csv:2:4: a byte here is no UTF-8 text; save the table as CSV in UTF-8"},
		{"job,operation\rb,c", "log.csv:1:14: a line ends in a lone carriage return; save the table as CSV in UTF-8"},
		{head + strings.Repeat("x", hours.MaxBytes), fmt.Sprintf("log.csv:1:1: the file has %d bytes; keep it within %d", hours.MaxBytes+len(head), hours.MaxBytes)},
	} {
		_, err := hours.Read("log.csv", []byte(c.text))
		require.Error(t, err, "%.60s", c.text)
		assert.Equal(t, c.want, err.Error(), "%.60s", c.text)
	}
}

func TestLongLogs(t *testing.T) {
	var b strings.Builder
	b.WriteString("job,operation,units,minutes\n")
	for i := range hours.MaxRecords {
		fmt.Fprintf(&b, "job %d,fold,%d,%d\n", i, i+1, 2*i+5)
	}
	got, err := hours.Read("log.csv", []byte(b.String()))
	require.NoError(t, err)
	assert.Len(t, got, hours.MaxRecords)
	b.WriteString("one more,fold,1,1\n")
	_, err = hours.Read("log.csv", []byte(b.String()))
	assert.EqualError(t, err, "log.csv:10002:1: more than 10000 rows stand in the log; leave out the oldest jobs")

	_, err = hours.Read("log.csv", []byte("job,operation,units,minutes\n"+strings.Repeat("a,b,c,d\n", 1000)))
	var faults hours.Faults
	require.True(t, errors.As(err, &faults))
	require.Len(t, faults, hours.MaxFaults+1)
	assert.Equal(t, "1800 more faults follow", faults[hours.MaxFaults].Wrong)
}

// Whatever a log holds, it is read or complained of, in lines that name a place of it; and what is
// read can be estimated from without a figure that is none.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"", "job,operation,units,minutes\na,b,1,2\n", "\ufeffjob,operation,units,minutes\r\n\"a\"\"\",b,.5,2.\r\nc,b,1,9\r\nd,b,4,9\r\n", "job,operation,units,minutes\n\"a", "\"\n\"\n",
		"job;operation\n", "minutes,units,operation,job\n1,1,'=a,b\n2,1,x,b\n", ",,,\n\n\njob,operation,units,minutes\n\n,,\n\"\na\",,,,,", "job,operation,units,minutes\na,b,1,1000000\nb,b,.00001,.1",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		records, err := hours.Read("f.csv", data)
		if err != nil {
			var faults hours.Faults
			require.True(t, errors.As(err, &faults))
			require.NotEmpty(t, faults)
			for _, fault := range faults {
				assert.True(t, fault.Line >= 1 && fault.Line <= strings.Count(string(data), "\n")+1, fault.Error())
				assert.GreaterOrEqual(t, fault.Column, 1)
				assert.NotContains(t, fault.Error(), "\n")
				assert.True(t, utf8.ValidString(fault.Error()))
			}
			return
		}
		var operations []hours.Operation
		for _, r := range records {
			operations = append(operations, hours.Operation{Name: r.Operation, Per: hours.Piece})
		}
		w, err := hours.Of(operations, counts, records, 0.8)
		require.NoError(t, err)
		for _, e := range w.Operations {
			assert.True(t, 0 <= e.Low && e.Low <= e.Expected && e.Expected <= e.High && e.High < 1e18, "%+v", e)
		}
	})
}

// As many records as a log holds, for a hundred operations.
func BenchmarkReadAndEstimate(b *testing.B) {
	var text strings.Builder
	text.WriteString("job,operation,units,minutes\n")
	var operations []hours.Operation
	for i := range hours.MaxRecords {
		fmt.Fprintf(&text, "job %d,operation %d,%d,%d\n", i, i%100, 1+i/100, 5+i/40+i%7)
		if i < 100 {
			operations = append(operations, hours.Operation{Name: fmt.Sprintf("operation %d", i), Per: hours.Piece})
		}
	}
	data := []byte(text.String())
	for b.Loop() {
		log, err := hours.Read("log.csv", data)
		require.NoError(b, err)
		_, err = hours.Of(operations, counts, log, 0.8)
		require.NoError(b, err)
	}
}
