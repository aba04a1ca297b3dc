//! What stands below the help of `diagnose`: examples, the trees that ship, answers files, statuses.

/// The text, as wide as a terminal of 80 columns.
pub const DIAGNOSE_HELP: &str = "\
Examples:
  dryhold diagnose                          the guided case, from the beginning
  dryhold diagnose pump_alone               the pump, its oil and the gauge
  dryhold diagnose --for phone              with the questions to read aloud
  dryhold diagnose --answers van.yaml --set blank_off='45 micron' --json

Trees of the built-in handbook:
  start              what to test, and where the trouble shows
  safety             before anything is opened or switched on
  wont_pull_below    it stops above what the job asks for
  rises              it rises once it is shut off
  drops_slowly       it comes down, but too slowly
  gauge_odd          a reading that sticks, jumps or leaps
  pump_odd           a pump that is noisy, hot or fogs
  before_the_job     target, limit, lines and pump, before the first valve
  before_a_branch    the same for a branch of a rack that runs on
  history            what happened to this system before
  measured_right     whether the right thing was measured
  gauge_check        whether the gauge can be believed
  gauge_seen         where the gauge sits
  second_gauge       whether a second gauge is at hand
  reading_stuck      a reading that doesn't move
  which_side         which side of the valve holds it up
  pump_alone         the pump on its own: its oil, its ballast, its floor
  power_cut          the pump stopped by itself
  oil_back           pump oil sucked back
  rig_alone          the rig without the system, against the sum of its parts
  part_in_line       hoses and parts, one at a time between pump and gauge
  small_volume       a part isolated on its own
  path               whether the way to the system is wide enough
  pull_down          whether it comes down as fast as it can
  stall_at_saturation
                     whether it stands where water would hold it
  stall_and_rise     whether the rise explains the stall
  written_limit      what the hold has to keep, as written
  hold_test          the system shut off: its written limit, its rise
  few_readings       how much a hold rose, from two readings
  valve_shut         which valve was shut for a hold
  hold_again         a second hold against the first: leak or moisture
  warm_system        whether the reading follows the warmth of a spot
  exhaust_sniff      whether refrigerant leaves through the pump
  nitrogen_sweep     a sweep with dry nitrogen, and the hold again
  standing_pressure  a pressure test with dry nitrogen, warmth allowed for
  bubble_test        the place of a leak, under nitrogen
  sections           one section at a time, by what each lets in
  leave_overnight    make it safe and leave it
  note_vacuum        what it is left at, under vacuum
  note_pressure      what it is left at, under pressure
  come_back          what it was left at, against what it reads now
  prove_it           both proofs, and what is handed over
  after_charging     once more, with the charge behind it

An answers file names a tree, answers as typed, and the cautions acknowledged:
  tree: pump_alone
  answers:
    target: 500 micron
    blank_off: [900 micron, 45 micron]
  acknowledge: [system_open]

Exit status:
  0    settled (also when nothing is wrong), or a proof was passed or a way is done
  2    an answer can't be used, or no finding uses one; the message says what
  3    not settled, stopped by you, or the input ended
  4    stopped for safety
  5    the handbook has errors
  130  interrupted; the case is kept";
