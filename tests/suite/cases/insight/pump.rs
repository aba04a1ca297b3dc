//! A small handbook for what stands behind a verdict; every number in it is invented.

/// Oil, a joint, damp and a seal: what they show, what it costs to look and to mend.
pub const HANDBOOK: &str = r"
format: 1
name: Pump and joints
version: 1
instruments:
  gauge:
    name: Gauge
    offset: 20 micron
    resolution: 1 micron
    basis: estimate
questions:
  old:
    ask: Is the oil old?
    kind: yes/no
  dry_store:
    ask: Has it stood in a dry store?
    kind: yes/no
  reads_high:
    ask: Does it read high?
    kind: yes/no
    takes: 3 min
  looks:
    ask: How does the oil look?
    takes: 1 min
    choices:
      clear: Clear as water
      cloudy: Cloudy
      milky: Milky
  bubbles:
    ask: Are there bubbles at a joint?
    kind: yes/no
    takes: 12 min
  rises:
    ask: Does it rise when it is shut off?
    kind: yes/no
    takes: 10 min
  floor:
    ask: Where does it stop?
    kind: pressure
    unit: micron
    range: 1 micron to 760000 micron
    usual: 50 micron to 200 micron
    instrument: gauge
    takes: 8 min
    basis: estimate
findings:
  high:
    when: reads_high
    shown_by: {oil: 0.9, joint: 0.8, damp: 0.7}
    anyway: 0.05
    basis: estimate
  oil_look:
    of: looks
    shown_by:
      oil: {clear: 0.2, cloudy: 0.3, milky: 0.5}
    anyway: {clear: 0.9, cloudy: 0.07, milky: 0.03}
    basis: estimate
  bubbling:
    when: bubbles
    shown_by: {joint: 0.85}
    anyway: 0.03
    basis: estimate
  rising:
    when: rises
    shown_by: {joint: 0.9, damp: 0.8, seal: 0.6}
    anyway: 0.1
    basis: estimate
  floor_high:
    when: floor > 100 micron
    shown_by: {oil: 0.8, seal: 0.7}
    anyway: 0.1
    basis: estimate
causes:
  oil:
    name: Wet oil
    group: pump
    how_common: 0.3
    more_if: {old: 2}
    because: Water boils off.
    fix: [change_oil]
    cured_by: {change_oil: 0.8}
    basis: estimate
  seal:
    name: Worn seal
    group: pump
    how_common: 0.04
    because: Air comes in along the shaft.
    fix: [change_seal]
    basis: estimate
  joint:
    name: Leaking joint
    how_common: 0.2
    because: Air comes in.
    fix: [tighten]
    cured_by: {tighten: 0.9}
    basis: estimate
  damp:
    name: Damp system
    how_common: 0.15
    less_if: {dry_store: 0.25}
    because: Water comes off the walls.
    fix: [heat]
    cured_by: {heat: 0.7}
    basis: estimate
actions:
  run_long:
    do: Run the pump for long.
    takes: 25 min
    leaves: [warm]
  run_warm:
    do: Run the pump warm.
    takes: 6 min
    leaves: [warm]
  change_oil:
    do: Change the oil.
    takes: 10 min
    needs: [warm, shut_off]
  change_seal:
    do: Change the seal.
    takes: 600 min
  tighten:
    do: Make the joint anew.
    takes: 15 min
  heat:
    do: Warm the system and go on pumping.
    takes: 60 min
    needs: [warm]
trees:
  pump:
    title: The pump
    start: high
    steps:
      high:
        ask: reads_high
        next: look
      look:
        ask: looks
        next: mend
      mend:
        action: change_oil
        next: again
      again:
        ask: reads_high
        again: true
        next: done
      done:
        end: The pump was looked at.
  joints:
    title: The joints
    start: wait
    steps:
      wait:
        do: Let it stand.
        wait: 5 min
        next: bubbles
      bubbles:
        ask: bubbles
        next: rises
      rises:
        ask: rises
        next: done
      done:
        end: The joints were looked at.
";

/// Two faults that explain one reading, and a look that tells them apart and takes so many
/// minutes.
pub fn two_faults(minutes: u32) -> String {
    format!(
        r"
format: 1
name: Two faults
version: 1
questions:
  reads_high:
    ask: Does it read high?
    kind: yes/no
  looks_loose:
    ask: Does it look loose?
    kind: yes/no
    takes: {minutes} min
findings:
  high:
    when: reads_high
    shown_by: {{oil: 0.9, joint: 0.9}}
    anyway: 0.001
    basis: estimate
  loose:
    when: looks_loose
    shown_by: {{joint: 0.98}}
    anyway: 0.01
    basis: estimate
causes:
  oil:
    name: Wet oil
    how_common: 0.3
    because: Water boils off.
    basis: estimate
  joint:
    name: Loose joint
    how_common: 0.045
    because: Air comes in.
    basis: estimate
trees:
  pump:
    title: The pump
    start: high
    steps:
      high:
        ask: reads_high
        next: done
      done:
        end: The pump was read.
"
    )
}
