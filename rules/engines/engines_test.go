package engines

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"
	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/traits"
	"github.com/google/cel-go/ext"

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

// fired writes the rules as one list, an element for each rule that says whether
// it has fired, in the common part of both languages. What the safety of the jar
// rests on has the names tested and plain in it.
func fired() string {
	var all []string
	for p := range rules.Parts {
		for _, r := range rules.Parts[p].Rules {
			all = append(all, condition(&r))
		}
	}
	return "[" + strings.Join(all, ", ") + "]"
}

// backing writes what makes the safety of a jar rest on one value of that sign.
func backing(value rules.Value) string {
	or := []string{"false"}
	for p := range rules.Parts {
		for _, r := range rules.Parts[p].Rules {
			if r.Kind.Supports() && r.Backs() == value {
				or = append(or, condition(&r))
			}
		}
	}
	return strings.Join(or, " || ")
}

// condition writes when a rule applies, in the language of the engines. It is like the
// one in gen, which writes Go: of a test and a generator neither can import the other,
// and the two engines are to be fed with words of their own.
func condition(r *rules.Rule) string {
	var and []string
	for _, c := range r.When {
		var in []string
		for _, v := range c {
			if v.Sign() == rules.SignBacking {
				in = append(in, map[rules.Value]string{rules.BackingTested: "tested", rules.BackingPlain: "!tested && plain", rules.BackingOther: "!tested && !plain"}[v])
				continue
			}
			for i, info := range v.Sign().Info().Values {
				if info.Value == v {
					in = append(in, fmt.Sprintf("%s == %d", name(v.Sign()), i))
				}
			}
		}
		and = append(and, "("+strings.Join(in, " || ")+")")
	}
	return "(" + strings.Join(and, " && ") + ")"
}

func exprProgram(t testing.TB) *vm.Program {
	p, err := expr.Compile("let tested = "+backing(rules.BackingTested)+"; let plain = "+backing(rules.BackingPlain)+"; "+fired(), expr.Env(jars(1)[0].env))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func celProgram(t testing.TB) cel.Program {
	options := []cel.EnvOption{ext.Bindings()}
	for i := range rules.Signs {
		options = append(options, cel.Variable(name(rules.SignID(i)), cel.IntType))
	}
	env, err := cel.NewEnv(options...)
	if err != nil {
		t.Fatal(err)
	}
	ast, issues := env.Compile("cel.bind(tested, " + backing(rules.BackingTested) + ", cel.bind(plain, " + backing(rules.BackingPlain) + ", " + fired() + "))")
	if issues.Err() != nil {
		t.Fatal(issues.Err())
	}
	p, err := env.Program(ast, cel.EvalOptions(cel.OptOptimize))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// All must agree, or comparing their speeds means nothing: the same rules fire, and
// the switch, which computes only the verdict, has the same verdict.
func TestAgree(t *testing.T) {
	program, c := exprProgram(t), celProgram(t)
	verdicts, rulesFired := map[rules.Verdict]int{}, 0
	for _, j := range jars(2048) {
		o := rules.Evaluate(j.situation)
		verdicts[o.Lowest]++
		if got := verdict(&j.values); got != int(o.Lowest) {
			t.Fatalf("switch: got %d, want %d", got, o.Lowest)
		}
		var want []bool
		for p := range rules.Parts {
			for i := range rules.Parts[p].Rules {
				want = append(want, o.Certain[p]>>i&1 == 1)
			}
		}
		byExpr, err := expr.Run(program, j.env)
		if err != nil {
			t.Fatal(err)
		}
		byCel, _, err := c.Eval(j.env)
		if err != nil {
			t.Fatal(err)
		}
		list, of := byExpr.([]any), byCel.(traits.Lister)
		if len(list) != len(want) || of.Size() != types.Int(len(want)) {
			t.Fatalf("got %d rules from expr and %v from cel, want %d", len(list), of.Size(), len(want))
		}
		for i, w := range want {
			if w {
				rulesFired++
			}
			if list[i] != w {
				t.Fatalf("rule %d: got %v from expr, want %t", i, list[i], w)
			}
			if got := of.Get(types.Int(i)); got != types.Bool(w) {
				t.Fatalf("rule %d: got %v from cel, want %t", i, got, w)
			}
		}
	}
	t.Logf("verdicts: %v; %d times a rule has fired", verdicts, rulesFired)
	if len(verdicts) != 3 || rulesFired == 0 {
		t.Error("want jars of every verdict, and at least one rule that fires")
	}
}

// BenchmarkEngines asks each engine for every rule that has fired; only the plain
// switch gives no more than the verdict.
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
