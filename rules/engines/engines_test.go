package engines

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"
	"github.com/google/cel-go/cel"

	"larderlamp/rules"
)

// jar is a fully known jar in the form each engine wants.
type jar struct {
	situation rules.Situation
	values    [64]uint8
	env       map[string]any
}

// name is the variable of a sign in the expression languages.
func name(id rules.SignID) string { return "s_" + strings.ReplaceAll(id.ID(), "-", "_") }

func jars(n int) (js []jar) {
	r := rand.New(rand.NewPCG(1, 2))
	for len(js) < n {
		j := jar{situation: rules.NewSituation(), env: map[string]any{}}
		for i := range rules.Signs {
			id := rules.SignID(i)
			at := r.IntN(len(id.Info().Values))
			if r.IntN(8) > 0 { // mostly sound, so that all verdicts come up
				for k, v := range id.Info().Values {
					if v.Value == id.Info().Sound {
						at = k
					}
				}
			}
			j.situation[i] = 1 << at
			j.values[i] = uint8(at)
			j.env[name(id)] = int64(at)
		}
		js = append(js, j)
	}
	return
}

// text writes the rules as one expression in the common part of both languages.
func text() string {
	any := func(kind rules.Kind, then rules.Verdict, tested string) string {
		var or []string
		for p := range rules.Parts {
			for _, r := range rules.Parts[p].Rules {
				if r.Kind != kind || r.Then != then {
					continue
				}
				var and []string
				for _, c := range r.When {
					if c[0].Sign() == rules.SignBacking {
						and = append(and, map[rules.Value]string{rules.BackingTested: tested, rules.BackingOther: "!(" + tested + ")"}[c[0]])
						continue
					}
					var in []string
					for _, v := range c {
						for i, info := range v.Sign().Info().Values {
							if info.Value == v {
								in = append(in, fmt.Sprintf("%s == %d", name(v.Sign()), i))
							}
						}
					}
					and = append(and, "("+strings.Join(in, " || ")+")")
				}
				or = append(or, "("+strings.Join(and, " && ")+")")
			}
		}
		return "(" + strings.Join(or, " || ") + ")"
	}
	tested := any(rules.Support, rules.Keep, "false")
	return fmt.Sprintf("!%s && !%s || %s ? 3 : (!%s || %s ? 2 : 1)",
		tested, any(rules.Support, rules.UseSoon, ""), any(rules.Restriction, rules.Discard, tested),
		tested, any(rules.Restriction, rules.UseSoon, tested))
}

func exprProgram(t testing.TB) *vm.Program {
	p, err := expr.Compile(text(), expr.Env(jars(1)[0].env))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func celProgram(t testing.TB) cel.Program {
	var options []cel.EnvOption
	for i := range rules.Signs {
		options = append(options, cel.Variable(name(rules.SignID(i)), cel.IntType))
	}
	env, err := cel.NewEnv(options...)
	if err != nil {
		t.Fatal(err)
	}
	ast, issues := env.Compile(text())
	if issues.Err() != nil {
		t.Fatal(issues.Err())
	}
	p, err := env.Program(ast, cel.EvalOptions(cel.OptOptimize))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// All four say the same, or their speeds mean nothing.
func TestAgree(t *testing.T) {
	program, c := exprProgram(t), celProgram(t)
	count := map[int]int{}
	for _, j := range jars(2048) {
		want := int(rules.Evaluate(j.situation).Lowest)
		count[want]++
		if got := verdict(&j.values); got != want {
			t.Fatalf("switch says %d, want %d", got, want)
		}
		if got, err := expr.Run(program, j.env); err != nil || got != want {
			t.Fatalf("expr says %v, %v, want %d", got, err, want)
		}
		if got, _, err := c.Eval(j.env); err != nil || got.Value() != int64(want) {
			t.Fatalf("cel says %v, %v, want %d", got, err, want)
		}
	}
	t.Logf("verdicts: %v", count)
}

func BenchmarkEngines(b *testing.B) {
	js := jars(256)
	program, c := exprProgram(b), celProgram(b)
	machine := vm.VM{}
	for _, engine := range []struct {
		name string
		run  func(*jar)
	}{
		{"rules.Evaluate", func(j *jar) { rules.Evaluate(j.situation) }},
		{"plain switch", func(j *jar) { verdict(&j.values) }},
		{"expr", func(j *jar) { machine.Run(program, j.env) }},
		{"cel", func(j *jar) { c.Eval(j.env) }},
	} {
		b.Run(engine.name, func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				engine.run(&js[i%len(js)])
			}
		})
	}
}
