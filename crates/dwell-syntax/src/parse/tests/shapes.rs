//! The shape of trees, construct by construct.

use expect_test::{Expect, expect};

use super::outline::outline;
use super::{MERLE, in_step, slips};

fn check(text: &str, wanted: Expect) {
    assert_eq!(slips(text), "");
    wanted.assert_eq(&outline(text));
}

/// Statements, each told in one line, without the procedure round them.
fn check_statements(statements: &[&str], wanted: Expect) {
    let mut told = String::new();
    for statement in statements {
        let text = in_step(statement);
        assert_eq!(slips(&text), "", "{statement}");
        let tree = outline(&text);
        let inner = tree.split_once("statements: ").map_or(tree.as_str(), |(_, inner)| inner);
        told.push_str(inner.trim_end().strip_suffix(" } })] })").unwrap_or(inner.trim_end()));
        told.push('\n');
    }
    wanted.assert_eq(&told);
}

#[test]
fn the_fixture_has_no_slip_and_every_declaration() {
    check(
        MERLE,
        expect![[r#"
            Use('vehicle.dwell')
            Handling(Handling { name: hose, states: [connected, open, plugged], transitions: [Transition { verb: (disconnect), from: [connected], to: open }, Transition { verb: (plug), from: [open], to: plugged }, Transition { verb: (unplug), from: [plugged], to: open }, Transition { verb: (connect), from: [open, plugged], to: connected }, Transition { verb: -, from: [open], to: plugged }], lines: [Line { kind: MayStay([open, plugged]), when: [] }, Line { kind: Brings(open, [Hazard(fuel-spray)]), when: [] }] })
            Item(Item { name: engine, handlings: [startable, heatable], at_each: -, label: ('engine'), lines: [Line { kind: Brings(running, [Hazard(moving-parts), Hazard(exhaust-gas)]), when: [] }, Line { kind: Needs((start), [StateOf { item: gearbox, at: -, state: neutral }, StateOf { item: belt-guard, at: -, state: fitted }]), when: [] }, Line { kind: Brings(start, [State(StateOf { item: rail, at: -, state: pressurised })]), when: [When { name: pump-fuse, values: [fitted] }] }, Line { kind: Lasts { state: warm, duration: Amount { number: 20, unit: (min) }, after: (stop) }, when: [] }] })
            Item(Item { name: spark-plug, handlings: [fastener], at_each: (cylinder), label: ('spark plug'), lines: [Line { kind: Torque(plug-torque), when: [] }, Line { kind: Located('under the cover'), when: [] }] })
            Item(Item { name: tie-rod, handlings: [turnable], at_each: -, label: ('tie rod'), lines: [Line { kind: Moves { subject: (turn), what: [toe, camber], gain: ((Amount { number: 0.06, unit: (in) }, Amount { number: 1/2, unit: (turn) })), steps: (Amount { number: 1/2, unit: (turn) }) }, when: [] }] })
            Item(Item { name: consumers, handlings: [switchable], at_each: -, label: -, lines: [] })
            Quantity(Quantity { name: toe, kind: angle, at_each: (front-wheel), label: ('rear minus front'), lines: [Line { kind: Positive('toe-in'), when: [] }, Line { kind: Negative('toe-out'), when: [] }, Line { kind: Never(Outside, [Range(Amount { number: -5, unit: - }, Amount { number: 5, unit: (°) }) }), when: [] }, Line { kind: Needs(-, [StateOf { item: suspension, at: -, state: settled }]), when: [] }, Line { kind: Moves { subject: -, what: [camber], gain: -, steps: - }, when: [] }] })
            Quantity(Quantity { name: total-toe, kind: angle, at_each: -, label: -, lines: [Line { kind: IsFold(Fold(Sum, Name(toe))), when: [] }] })
            Quantity(Quantity { name: run-out, kind: length, at_each: -, label: -, lines: [Line { kind: Never(Below, [Bare(Amount { number: 0, unit: (mm) }) }), when: [] }, Line { kind: Limits { at_least: false }, when: [] }, Line { kind: Means(Spread, (Amount { number: 1, unit: (turn) })), when: [] }] })
            Spec(Spec { name: belt-tension, kind: belt-frequency, lines: [SpecLine { kind: Check([PlusMinus(Amount { number: 62, unit: - }, Amount { number: 6, unit: (Hz) }) }, [When { name: engine-family, values: [k9, k9h] }, When { name: market, values: [hot] }]) }, SpecLine { kind: Adjust([Range(Amount { number: 59, unit: - }, Amount { number: 65, unit: (Hz) }), target: (Amount { number: 62, unit: (Hz) }) }, []) }, SpecLine { kind: Source('Engineering release 118, sheet 3') }, SpecLine { kind: Condition('cold') }] })
            Spec(Spec { name: bar-toe, kind: toe-length, lines: [SpecLine { kind: Check([PlusMinus(Amount { number: 0.13, unit: - }, Amount { number: 0.06, unit: (in) }), target: -, second: ([Range(Amount { number: 1.8, unit: - }, Amount { number: 4.8, unit: (mm) }) }) }, []) }, SpecLine { kind: NotAdjustable }] })
            Spec(Spec { name: camber-band, kind: angle, lines: [SpecLine { kind: Check([PlusMinus(Amount { number: <-0° 30′>, unit: - }, Amount { number: <0° 15′>, unit: - }) }, []) }, SpecLine { kind: Withdrawn(Date { text: "2031-05-01" }, 'Superseded.') }] })
            Spec(Spec { name: bore, kind: length, lines: [SpecLine { kind: Check([Uneven(Amount { number: 25, unit: - }, Amount { number: +0.021, unit: - }, Amount { number: -0, unit: (mm) }) }, []) }, SpecLine { kind: Adjust([Uneven(Amount { number: 25, unit: (mm) }, Amount { number: +0.01, unit: - }, Amount { number: -0, unit: - }) }, []) }] })
            Spec(Spec { name: head-bolt, kind: torque, lines: [SpecLine { kind: Stages([(false, [PlusMinus(Amount { number: 30, unit: - }, Amount { number: 2, unit: (N·m) }) }), (true, [PlusMinus(Amount { number: 90, unit: - }, Amount { number: 5, unit: (°) }) }), (true, [PlusMinus(Amount { number: 90, unit: - }, Amount { number: 5, unit: (°) }) })]) }] })
            Table(Table { name: regulated-voltage, kind: electric-potential, by: temperature, groups: [RowGroup { when: [When { name: market, values: [standard] }], rows: [Row { key: [Bare(Amount { number: -20, unit: (°C) }) }, band: [Range(Amount { number: 14.2, unit: - }, Amount { number: 15.2, unit: (V) }) } }, Row { key: [Bare(Amount { number: 20, unit: (°C) }) }, band: [Range(Amount { number: 13.8, unit: - }, Amount { number: 14.7, unit: (V) }) } }] }, RowGroup { when: [], rows: [Row { key: [AtMost(Amount(Amount { number: 16, unit: (in) })) }, band: [AtMost(Amount(Amount { number: 2, unit: (in) })) } }, Row { key: [Bare(Amount { number: 18, unit: (in) }) }, band: [AtMost(Amount(Amount { number: 2 1/4, unit: (in) })) } }] }], between_linear: (true), outside_refuse: true, lines: [SpecLine { kind: Source('Invented.') }] })
            Series(Series { name: shims, kind: shim-thickness, range: [Range(Amount { number: 2.20, unit: - }, Amount { number: 3.20, unit: (mm) }) }, step: Amount { number: 0.02, unit: (mm) } })
            Tool(Tool { name: multimeter, handlings: [clip-on], label: ('multimeter'), lines: [Line { kind: Measures(Ability { kind: electric-potential, range: ([Range(Amount { number: -600, unit: - }, Amount { number: 600, unit: (V) }) }), resolution: (Amount { number: 0.01, unit: (V) }), accuracy: [OfReading(Amount { number: 0.2, unit: (%) }), Digits(2)], needs: [] }), when: [] }, Line { kind: Sets(Ability { kind: dc-voltage, range: ([Bare(Amount { number: 500, unit: (V) }) }), resolution: -, accuracy: [], needs: [] }), when: [] }, Line { kind: Fits('M12x1.5'), when: [] }, Line { kind: Calibrated(Number32 { value: 12 }), when: [] }, Line { kind: WarmsUp(Amount { number: 15, unit: (min) }), when: [] }, Line { kind: Zeroed { after: true, what: connect }, when: [] }, Line { kind: Zeroed { after: false, what: procedure }, when: [] }, Line { kind: Impedance([AtLeast(Amount(Amount { number: 10, unit: (MΩ) })) }), when: [] }] })
            Hazard(Hazard { name: exhaust-gas, level: Warning, text: ('Exhaust gas is poisonous.') })
            Hazard(Hazard { name: shock, level: Danger, text: - })
            Variant(Choice { name: engine-family, values: [k9, k9h] })
            Positions(Choice { name: cylinder, values: [1, 2, 3, 4] })
            Procedure(Procedure { name: belt-and-charging, title: ('Alternator belt tension and charging voltage'), parts: [Revision { number: Number32 { value: 4 }, date: Date { text: "2031-02-11" }, why: ('The belt is now set to ± 3 Hz.') }, Withdrawn(Date { text: "2031-06-01" }, 'Replaced.'), Applies(Choice { name: engine-family, values: [k9, k9h] }), Decide { guarded: true }, Needs([Need { state: StateOf { item: engine, at: -, state: stopped }, by: - }, Need { state: StateOf { item: consumers, at: -, state: off }, by: - }, Need { state: StateOf { item: battery, at: -, state: charged }, by: (battery-check) }]), Leaves([StateOf { item: engine, at: -, state: warm }]), Keep(Keep { what: State(StateOf { item: battery-lead, at: -, state: connected }), with: -, text: -, block: - }), Statement(Statement { kind: Caution { level: Warning, hazard: exhaust-gas, text: - } }), Statement(Statement { kind: Note('Two people.') }), Statement(Statement { kind: Waive { rule: caution-missing, because: 'The bay has extraction.' } }), Step(Step { name: tension, title: ('Check the belt tension'), signed: 1, block: Block { statements: [Statement { kind: Handle(Handle { verb: connect, item: belt-meter, to: (Name(belt-span)), at_each: -, at: -, with: [], text: ('Point the head at the middle.') }) }, Statement { kind: Measure(Measure { readings: [NewReading { name: tension, kind: (belt-frequency) }], again: false, with: (belt-meter), clauses: [Times(Number32 { value: 3 }), Take(Mean)], text: - }) }, Statement { kind: Expect { condition: Condition { quantifier: -, joint: And, tests: [Test { kind: Meets { what: Name(tension), misses: false, spec: belt-tension, at: - } }] }, proves: -, otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: Adjust { what: [(tension, belt-tension), (idle, idle-speed)], times: (Number32 { value: 5 }), block: Block { statements: [Statement { kind: Handle(Handle { verb: loosen, item: tensioner-bolt, to: -, at_each: -, at: -, with: [], text: - }) }, Statement { kind: Handle(Handle { verb: tighten, item: tensioner-bolt, to: (Band([PlusMinus(Amount { number: 20, unit: - }, Amount { number: 2, unit: (N·m) }) })), at_each: (stud), at: -, with: [torque-wrench, angle-disc], text: ('Crosswise.') }) }, Statement { kind: Handle(Handle { verb: turn, item: tie-rod, to: -, at_each: -, at: (left), with: [], text: - }) }] }, otherwise: [Arm { side: (High), of: (idle), block: Block { statements: [Statement { kind: End { outcome: failed, text: ('Cannot be brought in.') } }] } }, Arm { side: (NoReading), of: -, block: Block { statements: [Statement { kind: End { outcome: unfinished, text: - } }] } }, Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: failed, text: - } }] } }] } }] } }] } }] } }), Step(Step { name: run, title: ('Run it'), signed: 2, block: Block { statements: [Statement { kind: Do { text: 'Wait until it stalls.', brings: [State(StateOf { item: engine, at: -, state: stopped }), Hazard(shock)], zeroes: (dial-gauge) } }, Statement { kind: Wait { duration: Amount { number: 2, unit: (min) }, since: (Event { verb: start, item: engine }), text: ('Hold a fast idle.') } }, Statement { kind: Wait { duration: Amount { number: <1 h 30 min>, unit: - }, since: -, text: - } }, Statement { kind: Measure(Measure { readings: [NewReading { name: hc, kind: - }, NewReading { name: co, kind: - }], again: false, with: (analyser), clauses: [At(tail-pipe), After(Amount { number: 10, unit: (s) }), Every(Amount { number: 0.75, unit: (s) }), Averaging(Amount { number: 5, unit: (s) }), Over(Amount { number: 90, unit: (s) }, true), Until(Condition { quantifier: -, joint: And, tests: [Test { kind: Meets { what: Name(hc), misses: false, spec: test-hc, at: - } }, Test { kind: Meets { what: Name(co), misses: false, spec: test-co, at: - } }] })], text: - }) }, Statement { kind: Measure(Measure { readings: [NewReading { name: hc, kind: - }, NewReading { name: co, kind: - }], again: true, with: -, clauses: [], text: - }) }, Statement { kind: Measure(Measure { readings: [NewReading { name: residual, kind: (dc-voltage) }], again: false, with: (hv-meter), clauses: [AtEach(hv-pair), Over(Amount { number: 3, unit: (s) }, false), Take(Furthest)], text: - }) }, Statement { kind: Expect { condition: Condition { quantifier: ((Every)), joint: And, tests: [Test { kind: Band { what: Name(residual), band: [PlusMinus(Amount { number: 0, unit: - }, Amount { number: 12, unit: (V) }) } } }, Test { kind: Meets { what: Name(live-after), misses: false, spec: meter-check, at: - } }] }, proves: (StateOf { item: hv-bus, at: -, state: dead }), otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: unfinished, text: ('Not dead.') } }] } }] } }, Statement { kind: Expect { condition: Condition { quantifier: ((Any)), joint: Or, tests: [Test { kind: Band { what: Name(dry), band: [Below(Share(Amount { number: 70, unit: (%) }, Fold(Highest, Name(dry)))) } } }, Test { kind: Band { what: Fold(Spread, Name(dry)), band: [AtMost(Amount(Amount { number: 250, unit: (kPa) })) } } }] }, proves: -, otherwise: [Arm { side: (Low), of: (dry), block: Block { statements: [Statement { kind: Cause { item: rings, text: ('Oil raises the reading.') } }] } }, Arm { side: -, of: -, block: Block { statements: [Statement { kind: On { step: wet } }] } }] } }, Statement { kind: Ask { name: lamp, text: 'What does the lamp do?', answers: [lit, dark, flickers] } }, Statement { kind: Ask { name: seal, text: 'Is the seal whole?', answers: [] } }, Statement { kind: If { arms: [(Condition { quantifier: -, joint: And, tests: [Test { kind: Is { name: lamp, at: -, not: false, values: [dark, flickers] } }] }, Block { statements: [Statement { kind: Refer { to: no-charge, text: ('Begin there.') } }] }), (Condition { quantifier: -, joint: Or, tests: [Test { kind: Is { name: charge, at: -, not: true, values: [steady] } }, Test { kind: Band { what: Name(charge), band: [Above(First(charge)) } } }] }, Block { statements: [Statement { kind: Perform { what: battery-charge, otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: failed, text: - } }] } }] } }] })], last: (Block { statements: [Statement { kind: Note('All well.') }] }) } }, Statement { kind: Read { name: rim, kind: (wheel-diameter), from: 'the steering wheel', expected: ([Range(Amount { number: 12, unit: - }, Amount { number: 24, unit: (in) }) }) } }, Statement { kind: Let { name: cross, kind: (angle-difference), value: Binary(Minus, At(Name(camber), left), At(Name(camber), right)) } }, Statement { kind: Let { name: ri, kind: -, value: Binary(Over, Binary(Times, Binary(Times, Name(ro), Name(vb)), Group(Binary(Minus, Binary(Over, Amount(Amount { number: 1, unit: - }), Name(v1)), Binary(Over, Amount(Amount { number: 1, unit: - }), Name(v2))))), Amount(Amount { number: 400, unit: (V) })) } }, Statement { kind: Choose { name: new-shim, from: shims, nearest: Binary(Minus, Binary(Plus, Name(old), Name(gap)), TargetOf(valve-clearance)), otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: failed, text: - } }] } }] } }, Statement { kind: Keep(Keep { what: Quantity(engine-speed, [PlusMinus(Amount { number: 2500, unit: - }, Amount { number: 300, unit: (rpm) }) }), with: (analyser), text: ('Hold the pedal.'), block: (Block { statements: [Statement { kind: Wait { duration: Amount { number: 30, unit: (s) }, since: -, text: - } }] }), otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: Back { step: run, times: (Number32 { value: 3 }), otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: unfinished, text: - } }] } }] } }] } }] }) }, Statement { kind: ForEach { positions: cylinder, condition: (Condition { quantifier: -, joint: And, tests: [Test { kind: Meets { what: Name(dry), misses: true, spec: compression-floor, at: - } }] }), block: Block { statements: [Statement { kind: Handle(Handle { verb: connect, item: gauge, to: (Name(spark-plug)), at_each: -, at: -, with: [], text: - }) }] } } }, Statement { kind: Expect { condition: Condition { quantifier: -, joint: And, tests: [Test { kind: Meets { what: Name(play), misses: false, spec: steering-play, at: (Name(rim)) } }] }, proves: -, otherwise: [Arm { side: (NoReading), of: -, block: Block { statements: [Statement { kind: End { outcome: unfinished, text: - } }] } }, Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: failed, text: - } }] } }] } }, Statement { kind: Expect { condition: Condition { quantifier: -, joint: And, tests: [Test { kind: Band { what: Name(pins), band: [Exactly(Amount { number: 5, unit: - }) } } }, Test { kind: Band { what: Name(coolant), band: [AtLeast(Amount(Amount { number: 85, unit: (°C) })) } } }] }, proves: -, otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: passed, text: - } }] } }] } }] } }), Restore { block: Block { statements: [Statement { kind: Handle(Handle { verb: stop, item: engine, to: -, at_each: -, at: -, with: [], text: - }) }, Statement { kind: Handle(Handle { verb: disconnect, item: belt-meter, to: -, at_each: -, at: -, with: [], text: - }) }] }, signed: 2 }, Case(Case { title: 'slack belt', entries: [CaseEntry { name: engine-family, values: [Word(k9)] }, CaseEntry { name: tension, values: [Series([49, 50, 49], (Hz)), Series([61, 62, 61], (Hz))] }, CaseEntry { name: charge, values: [Amount(Amount { number: 14.2, unit: (V) })] }, CaseEntry { name: lamp, values: [Word(dark)] }, CaseEntry { name: rim, values: [Word(no-reading)] }, CaseEntry { name: pins, values: [Amount(Amount { number: 5, unit: - })] }], ends: (passed) })] })
        "#]],
    );
}

#[test]
fn bands() {
    check(
        "spec a: b {
check 820 .. 880 rpm
check 62 ± 6 Hz
check 12 V ± 5 %
check 25 +0.021 -0 mm
check 25 mm +0.021 -0
check at least 2 mm
check at most 0.05 mm
check above 0 V
check below 50 ppm
check exactly 5
check within 0 ± 12 V
check 36 ± 2 psi (235 .. 262 kPa)
check 785 .. 815 rpm target 800 rpm
check at least 70 % of highest of dry
check -0° 30′ ± 0° 15′
check 1 h 30 min
check at most 2 1/4 in
check 1/32 in
}
",
        expect![[r#"
            Spec(Spec { name: a, kind: b, lines: [SpecLine { kind: Check([Range(Amount { number: 820, unit: - }, Amount { number: 880, unit: (rpm) }) }, []) }, SpecLine { kind: Check([PlusMinus(Amount { number: 62, unit: - }, Amount { number: 6, unit: (Hz) }) }, []) }, SpecLine { kind: Check([PlusMinus(Amount { number: 12, unit: (V) }, Amount { number: 5, unit: (%) }) }, []) }, SpecLine { kind: Check([Uneven(Amount { number: 25, unit: - }, Amount { number: +0.021, unit: - }, Amount { number: -0, unit: (mm) }) }, []) }, SpecLine { kind: Check([Uneven(Amount { number: 25, unit: (mm) }, Amount { number: +0.021, unit: - }, Amount { number: -0, unit: - }) }, []) }, SpecLine { kind: Check([AtLeast(Amount(Amount { number: 2, unit: (mm) })) }, []) }, SpecLine { kind: Check([AtMost(Amount(Amount { number: 0.05, unit: (mm) })) }, []) }, SpecLine { kind: Check([Above(Amount(Amount { number: 0, unit: (V) })) }, []) }, SpecLine { kind: Check([Below(Amount(Amount { number: 50, unit: (ppm) })) }, []) }, SpecLine { kind: Check([Exactly(Amount { number: 5, unit: - }) }, []) }, SpecLine { kind: Check([PlusMinus(Amount { number: 0, unit: - }, Amount { number: 12, unit: (V) }) }, []) }, SpecLine { kind: Check([PlusMinus(Amount { number: 36, unit: - }, Amount { number: 2, unit: (psi) }), target: -, second: ([Range(Amount { number: 235, unit: - }, Amount { number: 262, unit: (kPa) }) }) }, []) }, SpecLine { kind: Check([Range(Amount { number: 785, unit: - }, Amount { number: 815, unit: (rpm) }), target: (Amount { number: 800, unit: (rpm) }) }, []) }, SpecLine { kind: Check([AtLeast(Share(Amount { number: 70, unit: (%) }, Fold(Highest, Name(dry)))) }, []) }, SpecLine { kind: Check([PlusMinus(Amount { number: <-0° 30′>, unit: - }, Amount { number: <0° 15′>, unit: - }) }, []) }, SpecLine { kind: Check([Bare(Amount { number: <1 h 30 min>, unit: - }) }, []) }, SpecLine { kind: Check([AtMost(Amount(Amount { number: 2 1/4, unit: (in) })) }, []) }, SpecLine { kind: Check([Bare(Amount { number: 1/32, unit: (in) }) }, []) }] })
        "#]],
    );
}

#[test]
fn formulas_and_conditions() {
    check_statements(
        &[
            "let a = b - c",
            "let a = b - c * d / e + 5 V",
            "let a = (b - c) * 2",
            "let a = highest of first b at left",
            "let a = 70 % of lowest of b at 1",
            "let a = target of b + first",
            "let a = ro * vb * (1 / v1 - 1 / v2)",
            "if a is b { note \"x\" }",
            "if a is not b or c or d is e { note \"x\" }",
            "if a is b or highest of c above 5 V { note \"x\" }",
            "if any a meets b and c misses d at e at left { note \"x\" }",
            "if every a within 0 ± 12 V and b exactly 5 { note \"x\" }",
            "if first meets a and b at least 2 mm (0.08 in) { note \"x\" }",
            "if a at left at least b + 5 V { note \"x\" }",
            "if a is not steady within 0.2 V and b within 5 V { note \"x\" }",
            "if a is fluctuating within 2 V or c is d { note \"x\" }",
        ],
        expect![[r#"
            [Statement { kind: Let { name: a, kind: -, value: Binary(Minus, Name(b), Name(c)) } }]
            [Statement { kind: Let { name: a, kind: -, value: Binary(Plus, Binary(Minus, Name(b), Binary(Over, Binary(Times, Name(c), Name(d)), Name(e))), Amount(Amount { number: 5, unit: (V) })) } }]
            [Statement { kind: Let { name: a, kind: -, value: Binary(Times, Group(Binary(Minus, Name(b), Name(c))), Amount(Amount { number: 2, unit: - })) } }]
            [Statement { kind: Let { name: a, kind: -, value: Fold(Highest, At(First(b), left)) } }]
            [Statement { kind: Let { name: a, kind: -, value: Share(Amount { number: 70, unit: (%) }, Fold(Lowest, At(Name(b), 1))) } }]
            [Statement { kind: Let { name: a, kind: -, value: Binary(Plus, TargetOf(b), Name(first)) } }]
            [Statement { kind: Let { name: a, kind: -, value: Binary(Times, Binary(Times, Name(ro), Name(vb)), Group(Binary(Minus, Binary(Over, Amount(Amount { number: 1, unit: - }), Name(v1)), Binary(Over, Amount(Amount { number: 1, unit: - }), Name(v2))))) } }]
            [Statement { kind: If { arms: [(Condition { quantifier: -, joint: And, tests: [Test { kind: Is { name: a, at: -, not: false, values: [b] } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: -, joint: Or, tests: [Test { kind: Is { name: a, at: -, not: true, values: [b, c] } }, Test { kind: Is { name: d, at: -, not: false, values: [e] } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: -, joint: Or, tests: [Test { kind: Is { name: a, at: -, not: false, values: [b] } }, Test { kind: Band { what: Fold(Highest, Name(c)), band: [Above(Amount(Amount { number: 5, unit: (V) })) } } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: ((Any)), joint: And, tests: [Test { kind: Meets { what: Name(a), misses: false, spec: b, at: - } }, Test { kind: Meets { what: Name(c), misses: true, spec: d, at: (At(Name(e), left)) } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: ((Every)), joint: And, tests: [Test { kind: Band { what: Name(a), band: [PlusMinus(Amount { number: 0, unit: - }, Amount { number: 12, unit: (V) }) } } }, Test { kind: Band { what: Name(b), band: [Exactly(Amount { number: 5, unit: - }) } } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: -, joint: And, tests: [Test { kind: Meets { what: Name(first), misses: false, spec: a, at: - } }, Test { kind: Band { what: Name(b), band: [AtLeast(Amount(Amount { number: 2, unit: (mm) })), target: -, second: ([Bare(Amount { number: 0.08, unit: (in) }) }) } } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: -, joint: And, tests: [Test { kind: Band { what: At(Name(a), left), band: [AtLeast(Binary(Plus, Name(b), Amount(Amount { number: 5, unit: (V) }))) } } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: -, joint: And, tests: [Test { kind: Is { name: a, at: -, not: true, values: [steady], within: (Amount { number: 0.2, unit: (V) }) } }, Test { kind: Band { what: Name(b), band: [Bare(Amount { number: 5, unit: (V) }) } } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
            [Statement { kind: If { arms: [(Condition { quantifier: -, joint: Or, tests: [Test { kind: Is { name: a, at: -, not: false, values: [fluctuating], within: (Amount { number: 2, unit: (V) }) } }, Test { kind: Is { name: c, at: -, not: false, values: [d] } }] }, Block { statements: [Statement { kind: Note('x') }] })], last: - } }]
        "#]],
    );
}

#[test]
fn statements() {
    check_statements(
        &[
            "otherwise-valve a",
            "tighten a to b at each c with d, e \"f\"",
            "tighten a at left to at least 5 N·m",
            "measure a: b, c with d at each e 3 times take mean \"f\"",
            "measure a again",
            "measure a at b over at most 5 s until c at least 5 V",
            "measure a over 5 strokes",
            "read a from \"b\"",
            "wait 1 min since start engine",
            "keep a at left open with b \"c\" { remove d } otherwise { end failed }",
            "keep a at least 5 V",
            "end unfinished",
            "end failed \"x\"  end passed",
            "back to s up to 1 time",
            "on to s",
            "refer to p \"x\"",
            "perform p otherwise low { end failed }",
            "do \"x\" brings a, b is c, d at left is e zeroes f",
            "waive not-restored because \"x\"",
            "ask a \"b\" one of c, 1, d",
        ],
        expect![[r#"
            [Statement { kind: Handle(Handle { verb: otherwise-valve, item: a, to: -, at_each: -, at: -, with: [], text: - }) }]
            [Statement { kind: Handle(Handle { verb: tighten, item: a, to: (Name(b)), at_each: (c), at: -, with: [d, e], text: ('f') }) }]
            [Statement { kind: Handle(Handle { verb: tighten, item: a, to: (Band([AtLeast(Amount(Amount { number: 5, unit: (N·m) })) })), at_each: -, at: (left), with: [], text: - }) }]
            [Statement { kind: Measure(Measure { readings: [NewReading { name: a, kind: (b) }, NewReading { name: c, kind: - }], again: false, with: (d), clauses: [AtEach(e), Times(Number32 { value: 3 }), Take(Mean)], text: ('f') }) }]
            [Statement { kind: Measure(Measure { readings: [NewReading { name: a, kind: - }], again: true, with: -, clauses: [], text: - }) }]
            [Statement { kind: Measure(Measure { readings: [NewReading { name: a, kind: - }], again: false, with: -, clauses: [At(b), Over(Amount { number: 5, unit: (s) }, true), Until(Condition { quantifier: -, joint: And, tests: [Test { kind: Band { what: Name(c), band: [AtLeast(Amount(Amount { number: 5, unit: (V) })) } } }] })], text: - }) }]
            [Statement { kind: Measure(Measure { readings: [NewReading { name: a, kind: - }], again: false, with: -, clauses: [Over(Amount { number: 5, unit: (strokes) }, false)], text: - }) }]
            [Statement { kind: Read { name: a, kind: -, from: 'b', expected: - } }]
            [Statement { kind: Wait { duration: Amount { number: 1, unit: (min) }, since: (Event { verb: start, item: engine }), text: - } }]
            [Statement { kind: Keep(Keep { what: State(StateOf { item: a, at: (left), state: open }), with: (b), text: ('c'), block: (Block { statements: [Statement { kind: Handle(Handle { verb: remove, item: d, to: -, at_each: -, at: -, with: [], text: - }) }] }), otherwise: [Arm { side: -, of: -, block: Block { statements: [Statement { kind: End { outcome: failed, text: - } }] } }] }) }]
            [Statement { kind: Keep(Keep { what: Quantity(a, [AtLeast(Amount(Amount { number: 5, unit: (V) })) }), with: -, text: -, block: - }) }]
            [Statement { kind: End { outcome: unfinished, text: - } }]
            [Statement { kind: End { outcome: failed, text: ('x') } }, Statement { kind: End { outcome: passed, text: - } }]
            [Statement { kind: Back { step: s, times: (Number32 { value: 1 }) } }]
            [Statement { kind: On { step: s } }]
            [Statement { kind: Refer { to: p, text: ('x') } }]
            [Statement { kind: Perform { what: p, otherwise: [Arm { side: (Low), of: -, block: Block { statements: [Statement { kind: End { outcome: failed, text: - } }] } }] } }]
            [Statement { kind: Do { text: 'x', brings: [Hazard(a), State(StateOf { item: b, at: -, state: c }), State(StateOf { item: d, at: (left), state: e })], zeroes: (f) } }]
            [Statement { kind: Waive { rule: not-restored, because: 'x' } }]
            [Statement { kind: Ask { name: a, text: 'b', answers: [c, 1, d] } }]
        "#]],
    );
}
