//! A small handbook for the terminal; every number in it is invented.

/// A pump, its oil, and the hoses in front of it.
pub const BENCH: &str = r"
format: 1
name: Bench
version: 1
instruments:
  gauge:
    name: Gauge
    offset: 5 micron
    resolution: 1 micron
    basis: estimate
questions:
  target:
    ask: Which vacuum must be reached?
    say: Which vacuum are you asked for?
    kind: pressure
    unit: micron
    range: 20 micron to 2000 micron
    usual: 200 micron to 1000 micron
    not_sure: 400 micron to 600 micron
    why: The pump has to stop well below it.
    basis: estimate
  floor:
    ask: Where does the capped pump stop?
    say: What does the gauge show now?
    listen: The unit with the number.
    kind: pressure
    unit: micron
    range: 0.1 micron to 760000 micron
    usual: 5 micron to 5000 micron
    instrument: gauge
    repeats: 2 micron
    takes: 5 min
    cautions: [hot]
    basis: estimate
  oil:
    ask: How does the oil look?
    choices:
      clear: Clear as water
      cloudy: Cloudy or milky
    why: Wet oil turns cloudy.
  hose:
    ask: Which hose is next?
    kind: text
  damp:
    ask: Has this hose lain in the wet?
    kind: yes/no
    takes: 6 min
  charged:
    ask: Does any part stand above 0 bar gauge?
    kind: yes/no
    hazard: yes
formulas:
  limit:
    is: target / 3
    as: micron
    basis: estimate
findings:
  floor_high:
    when: floor > limit
    so: The pump stops at {floor}, above {limit}.
    so_not: The pump reaches {floor}, below {limit}.
    shown_by:
      wet_oil: usually
      worn: usually
    anyway: rarely
    basis: estimate
  oil_seen:
    of: oil
    so: The oil has been looked at.
    shown_by:
      wet_oil: {clear: 0.3, cloudy: 0.7}
    anyway: {clear: 0.95, cloudy: 0.05}
    basis: estimate
  damp_seen:
    when: damp
    so: A hose has lain in the wet.
    so_not: The hose has been kept dry.
    shown_by:
      damp_hose: usually
    anyway: rarely
    basis: estimate
causes:
  wet_oil:
    name: Wet oil
    group: pump
    how_common: 0.2
    because: Water in the oil boils off on the inlet side.
    fix: [change_oil]
    cured_by:
      change_oil: nearly always
    basis: estimate
  worn:
    name: Worn pump
    group: pump
    how_common: 0.05
    because: Worn vanes let gas slip back.
    basis: estimate
  damp_hose:
    name: Damp hose
    group: hose
    how_common: 0.08
    because: Water in a hose comes off slowly.
    basis: estimate
actions:
  change_oil:
    do: Drain the oil and fill in fresh oil.
    takes: 10 min
    parts: [pump oil]
    cautions: [hot]
trees:
  bench:
    title: The pump on the bench
    start: cap
    steps:
      cap:
        do: Cap the inlet of the pump.
        cautions: [open]
        next: target
      target:
        ask: target
        next: run
      run:
        do: Run the pump until it is warm.
        wait: 5 min
        next: floor
      floor:
        ask: floor
        again: true
        at_most: 3
        then: done
        next:
          - if: floor_high
            go: oil
          - too_close: done
          - unknown: done
          - else: done
      oil:
        ask: oil
        next: change
      change:
        action: change_oil
        next: run
      done:
        end: The pump has been read.
        then: [hoses]
  hoses:
    title: Each hose
    rounds: hose
    start: damp
    steps:
      damp:
        ask: damp
        next: done
      done:
        end: The hose has been looked at.
  charge:
    title: Is it safe to open?
    start: ask
    steps:
      ask:
        ask: charged
        next:
          yes: leave
          no: clear
      leave:
        stop: Leave it shut.
        why: What stands above 0 bar gauge has to be recovered first.
        refer: a person licensed for it
      clear:
        end: Nothing forbids going on.
cautions:
  hot:
    severity: caution
    text: The pump is hot. Wear gloves.
  open:
    severity: stop
    text: Never open a charged circuit. Recover it first.
    refer: a person licensed for it
";
