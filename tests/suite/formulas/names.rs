//! A fixed set of names with their answers, for every test of the language.

use std::collections::BTreeMap;

use dryhold::formula::{
    ChoiceSet, Draws, Facts, HoldGauge, HoldReadings, Kind, NameInfo, Names, Referent, Symbol,
    Truth, Unknown, Value, stream,
};
use dryhold::quantity::{QuantityKind, UnitExpression, parse_quantity, parse_unit};

/// One name with its answers, oldest first.
struct Entry {
    name: &'static str,
    referent: Referent,
    kind: Kind,
    unit: Option<UnitExpression>,
    answers: Vec<Value>,
}

/// The names and what is known of them.
pub struct Case {
    entries: Vec<Entry>,
    actions: Vec<&'static str>,
    /// How many answers had been given when an action was done.
    done_after: BTreeMap<u32, usize>,
}

fn quantity(kind: QuantityKind, texts: &[&str]) -> Vec<Value> {
    let value = |text: &&str| Value::Quantity(Draws::Same(parse_quantity(text, kind).unwrap()));
    texts.iter().map(value).collect()
}

fn truth(truth: Truth) -> Vec<Value> {
    vec![Value::Truth(Draws::Same(truth))]
}

fn set(ids: &[&str]) -> ChoiceSet {
    ChoiceSet::new(ids.iter().map(|id| (*id).to_owned()))
}

impl Case {
    /// Pressures `p` (900 then 100 micron), `blank_off` (900 then 35), `q` (50), `r` (25 +- 5), unanswered `u`; gauge
    /// pressures `gp`, `gp2` (2 and 1 bar); temperatures `t`, `t2` (20 and 25 degC); `wait`
    /// (10 min); `room` (10 L); `speed` (2 L/s); `still` (0 L/s); `n` (3); `tube` (10 mm);
    /// the difference `dp` (20 micron); yes or no `wet` (yes), `open` (no), `maybe`
    /// (unanswered), `half` (yes in every other draw); the choice `look` (cloudy, then dark);
    /// the choices `signs` (mist, noise); text `note`; date `when_done`; `log` (unanswered) and `hold`,
    /// readings; the formula `limit` (60 micron), the findings `high` (yes) and `seen` (dark); the actions
    /// `change_oil`, done between the answers of `p`, and `swap_hose`, never done.
    pub fn new() -> Self {
        let mut case = Self {
            entries: Vec::new(),
            actions: vec!["change_oil", "swap_hose"],
            done_after: BTreeMap::new(),
        };
        case.done_after.insert(0, 1);
        case.pressures();
        case.quantities();
        case.hold();
        case.others();
        case.on_site();
        case
    }

    fn pressures(&mut self) {
        let pressure = QuantityKind::PRESSURE;
        self.question("p", pressure, "micron", &["900 micron", "100 micron"]);
        self.question("q", pressure, "micron", &["50 micron"]);
        self.question("blank_off", pressure, "micron", &["900 micron", "35 micron"]);
        self.question("u", pressure, "micron", &[]);
        self.question("gp", QuantityKind::GAUGE_PRESSURE, "barg", &["2 barg"]);
        self.question("gp2", QuantityKind::GAUGE_PRESSURE, "barg", &["1 barg"]);
        self.question("dp", QuantityKind::PRESSURE_DIFFERENCE, "micron", &["20 micron"]);
        let micron = parse_unit("micron").unwrap();
        let column = stream("r").iter().map(|u| micron.to_si(20.0 + 10.0 * u)).collect();
        self.question("r", pressure, "micron", &[]);
        self.entries.last_mut().unwrap().answers = vec![Value::Quantity(Draws::Each(column))];
        self.add("limit", Referent::Formula, Kind::Quantity(pressure), {
            quantity(pressure, &["60 micron"])
        });
    }

    fn quantities(&mut self) {
        self.question("t", QuantityKind::TEMPERATURE, "degC", &["20 degC"]);
        self.question("t2", QuantityKind::TEMPERATURE, "degC", &["25 degC"]);
        self.question("wait", QuantityKind::TIME, "min", &["10 min"]);
        self.question("room", QuantityKind::VOLUME, "L", &["10 L"]);
        self.question("speed", QuantityKind::FLOW, "L/s", &["2 L/s"]);
        self.question("still", QuantityKind::FLOW, "L/s", &["0 L/s"]);
        self.question("tube", QuantityKind::LENGTH, "mm", &["10 mm"]);
        self.question("n", QuantityKind::NUMBER, "1", &["3"]);
        self.add(
            "log",
            Referent::Question,
            Kind::Readings(QuantityKind::PRESSURE),
            vec![Value::Unknown(Unknown::NotAnswered("log".into()))],
        );
    }

    /// Half an hour on a display of single microns: 300 micron, 12 micron a minute, and 200 micron
    /// that settle with a time constant of 4 min.
    fn hold(&mut self) {
        let micron = parse_unit("micron").unwrap();
        let shown = |minute: f64| 300.0 + 12.0 * minute + 200.0 * -libm::expm1(-minute / 4.0);
        let minutes: Vec<f64> = (0..=30).map(f64::from).collect();
        let gauge = HoldGauge {
            scale: Draws::Same(0.0),
            offset: Draws::Same(0.0),
            resolution: micron.to_si(1.0),
            repeats: None,
        };
        let pressures = minutes.iter().map(|&minute| micron.to_si(shown(minute).round())).collect();
        let times = minutes.iter().map(|minute| 60.0 * minute).collect();
        let hold = HoldReadings::new("hold".to_owned(), times, pressures, gauge);
        let kind = Kind::Readings(QuantityKind::PRESSURE);
        self.add("hold", Referent::Question, kind, vec![Value::Readings(hold.into())]);
    }

    fn others(&mut self) {
        let question = Referent::Question;
        self.add("wet", question, Kind::YesNo, truth(Truth::Yes));
        self.add("open", question, Kind::YesNo, truth(Truth::No));
        self.add("maybe", question, Kind::YesNo, Vec::new());
        let half = |u: &f64| if *u < 0.5 { Truth::Yes } else { Truth::No };
        let column = stream("half").iter().map(half).collect();
        self.add("half", question, Kind::YesNo, vec![Value::Truth(Draws::Each(column))]);
        let looks = set(&["clear", "low", "dark", "cloudy"]);
        let choice = |place| Value::Choice(Draws::Same(place));
        self.add("look", question, Kind::Choice(looks.clone()), vec![choice(3), choice(2)]);
        self.add("place", question, Kind::Choice(set(&["pump", "hose"])), vec![choice(0)]);
        self.add("seen", Referent::Finding, Kind::Choice(looks), vec![choice(2)]);
        self.add("high", Referent::Finding, Kind::YesNo, truth(Truth::Yes));
        self.add("signs", question, Kind::Choices(set(&["mist", "noise", "heat"])), {
            vec![Value::Choices([true, true, false].into())]
        });
        self.add("note", question, Kind::Text, vec![Value::Text("left hose".into())]);
        self.add("when_done", question, Kind::Date, vec![Value::Date("2025-11-03".into())]);
    }

    /// The names of the page for trainers, as its table gives them; `blank_off` stands above.
    fn on_site(&mut self) {
        let pressure = QuantityKind::PRESSURE;
        self.question("target", pressure, "micron", &["500 micron"]);
        self.question("stall_reading", pressure, "micron", &["1500 micron"]);
        self.question("stall_minutes", QuantityKind::TIME, "min", &["12 min"]);
        self.question("line_pressure", QuantityKind::GAUGE_PRESSURE, "barg", &["2 barg"]);
        self.question("air", QuantityKind::TEMPERATURE, "degC", &["20 degC"]);
        self.question("coil", QuantityKind::TEMPERATURE, "degC", &["8 degC"]);
        self.question("volume", QuantityKind::VOLUME, "L", &["8 L"]);
        self.question("pump_speed", QuantityKind::FLOW, "L/s", &["2 L/s"]);
        self.question("sample", pressure, "micron", &[]);
        let question = Referent::Question;
        self.add("oil_mist", question, Kind::YesNo, truth(Truth::Yes));
        self.add("ballast_open", question, Kind::YesNo, truth(Truth::No));
        self.add("touched", question, Kind::YesNo, Vec::new());
        let looks = set(&["clear", "low", "dark", "cloudy"]);
        let choice = |place| Value::Choice(Draws::Same(place));
        self.add("oil_look", question, Kind::Choice(looks), vec![choice(3), choice(0)]);
        self.add("noticed", question, Kind::Choices(set(&["mist", "noise", "heat"])), {
            vec![Value::Choices([true, true, false].into())]
        });
    }

    fn question(&mut self, name: &'static str, kind: QuantityKind, unit: &str, texts: &[&str]) {
        self.add(name, Referent::Question, Kind::Quantity(kind), quantity(kind, texts));
        self.entries.last_mut().unwrap().unit = Some(parse_unit(unit).unwrap());
    }

    fn add(&mut self, name: &'static str, referent: Referent, kind: Kind, answers: Vec<Value>) {
        self.entries.push(Entry { name, referent, kind, unit: None, answers });
    }

    fn entry(&self, symbol: Symbol) -> &Entry {
        &self.entries[symbol.0 as usize]
    }

    fn answer(&self, symbol: Symbol, place: Option<usize>) -> Value {
        let entry = self.entry(symbol);
        let name = entry.name.to_owned();
        match place.and_then(|place| entry.answers.get(place)) {
            Some(value) => value.clone(),
            None if entry.answers.is_empty() => Value::Unknown(Unknown::NotAnswered(name)),
            None => Value::Unknown(Unknown::NoEarlier(name)),
        }
    }
}

impl Names for Case {
    fn lookup(&self, name: &str) -> Option<NameInfo> {
        let place = self.entries.iter().position(|entry| entry.name == name)?;
        let entry = &self.entries[place];
        let symbol = Symbol(place as u32);
        let kind = entry.kind.clone();
        Some(NameInfo { symbol, referent: entry.referent, kind, declared: None })
    }

    fn action(&self, name: &str) -> Option<Symbol> {
        self.actions.iter().position(|action| *action == name).map(|place| Symbol(place as u32))
    }

    fn all_names(&self) -> Vec<&str> {
        self.entries.iter().map(|entry| entry.name).collect()
    }

    fn all_actions(&self) -> Vec<&str> {
        self.actions.clone()
    }
}

impl Facts for Case {
    fn latest(&self, symbol: Symbol) -> Value {
        self.answer(symbol, self.entry(symbol).answers.len().checked_sub(1))
    }

    fn first(&self, symbol: Symbol) -> Value {
        self.answer(symbol, Some(0))
    }

    fn previous(&self, symbol: Symbol) -> Value {
        self.answer(symbol, self.entry(symbol).answers.len().checked_sub(2))
    }

    fn before(&self, action: Symbol, symbol: Symbol) -> Value {
        let given = self.done_after.get(&action.0).copied();
        self.answer(symbol, given.and_then(|given| given.checked_sub(1)))
    }

    fn every(&self, symbol: Symbol) -> Value {
        Value::List(self.entry(symbol).answers.clone().into())
    }

    fn name(&self, symbol: Symbol) -> &str {
        self.entry(symbol).name
    }

    fn unit(&self, symbol: Symbol) -> Option<&UnitExpression> {
        self.entry(symbol).unit.as_ref()
    }

    fn is_answered(&self, symbol: Symbol) -> bool {
        self.entry(symbol).referent == Referent::Question
    }

    fn choice_label(&self, symbol: Symbol, choice: usize) -> String {
        match &self.entry(symbol).kind {
            Kind::Choice(set) | Kind::Choices(set) => format!("the {} one", set.ids()[choice]),
            _ => String::new(),
        }
    }
}
