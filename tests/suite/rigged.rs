//! The assistant against a simulated rig: the mapping is complete, and plays end honestly.

use dryhold::bench::gauge::{Gauge, MICRON};
use dryhold::bench::rig::Rig;
use dryhold::built_in::built_in_handbook;
use dryhold::case::Reply;
use dryhold::document::raw::read_rig_ranges;
use dryhold::evidence::{Engine, FindingState};
use dryhold::handbook::Handbook;
use dryhold::rehearsal::rigged::population::{Drawn, RIG_RANGES, Ranges, draw};
use dryhold::rehearsal::rigged::{
    AtRig, Fault, Hand, Kit, Look, Making, Played, RigAnswers, Slips, add_rig_answers, play,
};
use dryhold::source::Sources;

fn mapping(handbook: &Handbook) -> RigAnswers {
    let (raw, faults) = add_rig_answers(&mut Sources::default());
    assert_eq!(faults, []);
    RigAnswers::resolve(&raw.unwrap(), handbook).unwrap()
}

/// The built-in handbook with its engine and mapping.
struct Ground {
    handbook: Handbook,
    engine: Engine,
    mapping: RigAnswers,
}

impl Ground {
    fn new() -> Self {
        let handbook = built_in_handbook().unwrap();
        let engine = Engine::new(&handbook).unwrap();
        Self { mapping: mapping(&handbook), handbook, engine }
    }

    fn play(&self, tree: &str, faults: &[(Fault, f64)]) -> Played<'_> {
        self.play_with(tree, faults, |_| ())
    }

    fn play_with(
        &self,
        tree: &str,
        faults: &[(Fault, f64)],
        change: impl Fn(&mut Kit),
    ) -> Played<'_> {
        self.play_rig(tree, faults, |making| change(&mut making.kit))
    }

    fn play_rig(
        &self,
        tree: &str,
        faults: &[(Fault, f64)],
        change: impl Fn(&mut Making),
    ) -> Played<'_> {
        let mut making = Making::of(Rig::sound());
        faults.iter().for_each(|(fault, size)| making.spoil(*fault, *size));
        change(&mut making);
        let hand = Hand::of(making, 1).unwrap();
        let tree = self.handbook.find_tree(tree).unwrap();
        play((&self.handbook, &self.engine), tree, AtRig::new(hand, &self.mapping, []))
    }
}

/// The latest number that was answered to a question, in SI units.
fn number(played: &Played<'_>, question: &str) -> f64 {
    let id = played.case.handbook().find_question(question).unwrap();
    match played.case.latest_answer(id).map(|given| &given.reply) {
        Some(Reply::Quantity { si, .. }) => *si,
        other => panic!("{question}: {other:?}"),
    }
}

#[test]
fn every_question_and_action_of_the_built_in_handbook_has_its_entry() {
    let handbook = built_in_handbook().unwrap();
    let mapping = mapping(&handbook);
    for id in handbook.question_ids() {
        assert!(mapping.question(id).is_some(), "{}", handbook.question(id).id);
    }
    for id in handbook.action_ids() {
        assert!(mapping.action(id).is_some(), "{}", handbook.action(id).id);
    }
}

#[test]
fn a_sound_rig_is_played_without_a_refusal_and_to_the_bit() {
    let ground = Ground::new();
    let played = ground.play("pump_alone", &[]);
    assert_eq!(played.refused, []);
    assert_eq!(played.remarks, Vec::<String>::new());
    let floor = number(&played, "blank_off") / MICRON;
    assert!((20.0..60.0).contains(&floor), "{floor} micron");
    let again = ground.play("pump_alone", &[]);
    assert_eq!(played.case.events(), again.case.events());
    assert_eq!(played.minutes, again.minutes);
}

#[test]
fn wet_oil_is_found_before_it_is_changed() {
    let ground = Ground::new();
    let played = ground.play("pump_alone", &[(Fault::OilWet, 4e-3)]);
    assert_eq!(played.refused, []);
    let oil = ground.handbook.find_cause("pump_oil").unwrap();
    assert!(played.at_first(oil) > 0.8, "{}", played.at_first(oil));
}

#[test]
fn a_slip_of_the_unit_that_is_asked_back_is_put_right() {
    let ground = Ground::new();
    // 38 micron typed as 38 Torr are asked back.
    let slips = Slips { unit: Some(0), ..Slips::default() };
    let slipped = ground.play_with("pump_alone", &[], |kit| kit.slips = slips);
    let right = ground.play("pump_alone", &[]);
    let floors = [&slipped, &right].map(|played| number(played, "blank_off"));
    assert_eq!(floors[0], floors[1]);
}

/// What a gauge still shows of the air it was in is no reading: pump and gauge are given their time
/// from when the pump was switched on.
#[test]
fn two_sound_gauges_on_a_tee_are_read_once_both_have_settled() {
    let ground = Ground::new();
    let second = Gauge { lag: 9.0, ..Gauge::default() };
    let played = ground.play_with("gauge_check", &[], |kit| kit.second = Some(second));
    let [first, second] =
        ["gauge_a_reading", "gauge_b_reading"].map(|id| number(&played, id) / MICRON);
    assert!((first - second).abs() <= 2.0, "{first} and {second} micron");
}

/// A line that cools by .8 K an hour at 36 bar gauge loses .1 bar an hour by the ideal gas law, and no
/// gas: told in whole degrees it would look like a leak.
#[test]
fn a_tight_line_that_cools_by_less_than_a_degree_has_lost_no_nitrogen() {
    let ground = Ground::new();
    for starts_at in [6.4, 6.9] {
        let played = ground.play_rig("standing_pressure", &[(Fault::AirWarms, -0.8)], |making| {
            making.rig.ambient.temperature = 273.15 + starts_at;
        });
        let ends =
            ["nitrogen_pressure_start", "nitrogen_pressure_end"].map(|id| number(&played, id));
        assert!(ends[1] < ends[0] - 5e3, "from {starts_at} degC: {ends:?} Pa");
        let lost = ground.handbook.find_finding("nitrogen_lost").unwrap();
        let state = &played.case.assessment().finding(lost).state;
        assert!(!matches!(state, FindingState::True(_)), "from {starts_at} degC: {state:?}");
    }
}

#[test]
fn looks_are_typed_as_the_face_shows_them() {
    let mut making = Making::of(Rig::sound());
    making.kit.face = 3;
    making.rig.gauge.resolution = 1.0;
    let mut hand = Hand::of(making, 1).unwrap();
    let said = format!("{:?}", hand.look(Look::BarePump));
    assert!(said.ends_with(" Pa\")"), "{said}");
    assert!(format!("{:?}", hand.look(Look::Bubbles)).contains("no nitrogen"));
}

fn ranges(handbook: &Handbook) -> Ranges {
    let mut sources = Sources::default();
    let id = sources.add("src/rehearsal/rigged/population/ranges.yaml", RIG_RANGES);
    let (raw, faults) = read_rig_ranges(&sources, id);
    assert_eq!(faults, []);
    Ranges::resolve(&raw.unwrap(), handbook).unwrap()
}

#[test]
fn every_drawn_rig_can_be_and_hangs_on_its_number_alone() {
    let handbook = built_in_handbook().unwrap();
    let ranges = ranges(&handbook);
    let one = draw(&ranges, &handbook, 5, 17);
    for number in 0..300 {
        let drawn = draw(&ranges, &handbook, 5, number);
        assert_eq!(drawn.making == one.making, number == 17);
        assert!(Hand::of(drawn.making, drawn.seed).is_ok(), "rig {number}");
    }
    assert_ne!(draw(&ranges, &handbook, 6, 17).making, one.making);
}

#[test]
fn causes_are_drawn_by_the_base_rates_of_the_handbook() {
    let handbook = built_in_handbook().unwrap();
    let ranges = ranges(&handbook);
    let drawn: Vec<_> = (0..4000).map(|number| draw(&ranges, &handbook, 1, number)).collect();
    let share = |is_so: &dyn Fn(&Drawn) -> bool| {
        drawn.iter().filter(|drawn| is_so(drawn)).count() as f64 / 4000.0
    };
    for cause in handbook.causes() {
        let id = handbook.find_cause(&cause.id).unwrap();
        let found = share(&|drawn| drawn.causes.contains(&id));
        // What another brings comes on top; four standard deviations of 4000 draws.
        let brought: f64 = handbook
            .causes()
            .iter()
            .flat_map(|other| other.brings.iter().map(|(to, rate)| (*to, other.how_common * rate)))
            .filter(|(to, _)| *to == id)
            .map(|(_, rate)| rate)
            .sum();
        let wanted = cause.how_common + brought;
        let spread = 4.0 * (wanted / 4000.0_f64).sqrt();
        assert!((found - wanted).abs() < spread, "{}: {found} for {wanted}", cause.id);
    }
    let sound = share(&|drawn| drawn.causes.is_empty());
    let several = share(&|drawn| drawn.causes.len() > 1);
    assert!((0.45..0.6).contains(&sound) && (0.08..0.2).contains(&several), "{sound} {several}");
}
