package tables_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/rules"
)

var noon = time.Date(2026, 9, 12, 12, 0, 0, 0, time.UTC)

func TestLoggers(t *testing.T) {
	want := []record.DayReading{{Day: "2025-07-01", Min: 180, Max: 251}, {Day: "2025-07-02", Min: 190, Max: 190}}
	for name, text := range map[string]string{
		"a logger":            "Timestamp,Temperature (°C),Humidity (%)\n2025-07-01 04:00,18.0,55\n2025-07-01 16:00,25.1,40\n2025-07-02T04:00:00,19,50\n",
		"semicolons, commas":  "Datum-Date;Temp °C\n01.07.2025 04:00;18,0\n01.07.2025 16:00;25,1\n02.07.2025 04:00;19,0\n",
		"lowest and highest":  "day\tmin\tmax\n2025-07-01\t18\t25.1\n2025-07-02\t19\t19\n",
		"Fahrenheit":          "date,time,temp (°F)\n2025-07-01,04:00,64.4\n2025-07-01,16:00,77.18\n2025-07-02,04:00,66.2\n",
		"units in the cells":  "time,temperature\n2025-07-01,18.0 C\n2025-07-01,25.1 °C\n2025-07-02,19C\n",
		"month first":         "date,temperature\n7/1/2025 4:00,18\n07/01/2025 16:00,25.1\n7/2/2025,19\n7/2/2025 23:00,19\n07/13/2025,0\n",
		"in Spanish":          "Fecha y hora;Temperatura (°C);Humedad (%)\n01/07/2025 04:00;18,0;55\n01/07/2025 16:00;25,1;40\n02/07/2025 4:00;19;40\n13/07/2025 16:00;25,1;40\n",
		"Spanish, two times":  "Fecha;Hora;Temperatura media\n2025-07-01;04:00;18\n2025-07-01;16:00;25,1\n2025-07-02;04:00;19\n",
		"Spanish extremes":    "FECHA\tMÍNIMA °F\tMÁX. °F\tPunto de rocío\n2025-07-01\t64.4\t77.18\t50\n2025-07-02\t66.2\t66.2\t50\n",
		"Spanish, entered":    "Fecha de alta;Fecha;Mínima;Máxima;Fecha de baja\n2024-01-02;2025-07-01;18;25,1;2026-01-02\n2024-01-02;2025-07-02;19;19;\n",
		"date of the highest": "date of high,date,temperature\n2025-07-09,2025-07-01,18\n2025-07-09,2025-07-01,25.1\n2025-07-09,2025-07-02,19\n",
		"a date by its name":  "Fecha de temperatura;Temperatura\n2025-07-01;18\n2025-07-01;25,1\n2025-07-02;19\n",
		"day first":           "date,temperature\n1/7/2025 4:00,18\n01/07/2025 16:00,25.1\n2/7/2025,19\n13/7/2025,0\n",
	} {
		got, err := tables.ReadLog([]byte(text))
		if err != nil || len(got) < 2 || !reflect.DeepEqual(got[:2], want) {
			t.Errorf("%s: got %v, %v", name, got, err)
		}
	}
}

// What can't be read is refused with the line; nothing in the file is used.
func TestBadLoggersNameTheLine(t *testing.T) {
	for text, want := range map[string]string{
		"":                                             "empty",
		"date,color\n2025-07-01,red\n":                 "line 1",
		"date,temp\n":                                  "no readings",
		"date,temp\n2025-07-01,warm\n":                 "line 2",
		"date,temp\n2025-07-01,5\nyesterday,5\n":       "line 3",
		"date,temp\n2025-07-01,101\n":                  "line 2",
		"date,temp\n2025-07-01,-61\n":                  "line 2",
		"date,temp\n2025-07-01,NaN\n":                  "line 2",
		"date,temp\n2025-07-01,1e9\n":                  "line 2",
		"date,temp\n03/04/2025,5\n":                    "line 2",
		"date,temp\n13/04/2025,5\n04/13/2025,5\n":      "either number could be the month",
		"date,min,max\n2025-07-01,5,4\n":               "line 2",
		"date,temp,temperature\n2025-07-01,5,4\n":      "line 1",
		"date,temp\n2025-02-30,5\n":                    "line 2",
		"Fecha de alta;Fecha;Mínima\n5;2025-07-01;4\n": "a lowest and a highest",
		"Fecha de alta;Temperatura\n2025-07-01;4\n":    "want a date",
		"Fecha;Fecha de temperatura\n2025-07-01;4\n":   "and a temperature",
	} {
		if got, err := tables.ReadLog([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, %v", text, got, err)
		}
	}
	if _, err := tables.ReadLog([]byte("date,temp\n2025-07-01,100\n2025-07-01,-60\n")); err != nil {
		t.Errorf("the limits themselves: got error %v", err)
	}
}

// Every line of a table of batches is a batch or says what is wrong with it.
func TestManyBatches(t *testing.T) {
	const text = "product,date,jars,size,method,minutes,pressure,gauge,altitude,recipe,acid,lid lot,place,notes\n" +
		"peaches,2026-08-14,7,quart,boiling-water,30,,,800,published,,H-1,Cellar,=2+2\n" +
		"Green beans,2026-07-20,9,pint,pressure canner,20,11.5,dial,800,published,,,,\n" +
		"peaches,2026-13-14,7,,,,,,,,,,,\n" +
		"peaches,2027-01-01,7,,,,,,,,,,,\n" +
		"peaches,2026-08-14,seven,,,,,,,,,,,\n" +
		"peaches,2026-08-14,0,,,,,,,,,,,\n" +
		"peaches,2026-08-14,1,bucket,,,,,,,,,,\n" +
		"peaches,2026-08-14,1,,,,900,,,,,,,\n" +
		"unobtainium,2026-08-14,1,,,,,,,,,,,\n" +
		",2026-08-14,1,,,,,,,,,,,\n" +
		"peaches,2026-08-14,1,,,,11.55,,,,,,,\n"
	rows, err := tables.ReadBatches([]byte(text), false, noon)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"", "", "date", "date", "jars", "count", "size", "tenths_psi", "product", "product", "pressure"}
	if len(rows) != len(want) {
		t.Fatalf("got %d rows", len(rows))
	}
	for i, r := range rows {
		if r.Line != i+2 {
			t.Errorf("row %d: got line %d", i+1, r.Line)
		}
		if (r.Err == nil) != (want[i] == "") || r.Err != nil && !strings.Contains(r.Err.Error(), want[i]) {
			t.Errorf("line %d: got the error %v, want %q", r.Line, r.Err, want[i])
		}
	}
	b := rows[1].Batch
	if b.Product != "green-beans" || b.Method != rules.MethodPressure.ID() || *b.TenthsPSI != 115 || *b.Minutes != 20 || b.Count != 9 {
		t.Errorf("got %+v", b)
	}
	if rows[0].Place != "Cellar" || rows[0].Batch.Notes != "=2+2" {
		t.Errorf("got %+v", rows[0])
	}
	for text, want := range map[string]string{"": "empty", "date\n2026-01-01\n": "product", "product,date,color\n": "color", "product,date,made\n": "both"} {
		if _, err := tables.ReadBatches([]byte(text), false, noon); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v", text, err)
		}
	}
}
