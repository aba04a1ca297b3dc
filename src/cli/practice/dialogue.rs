//! The talk with whoever practises: what they do, and what comes of it.

use super::listed::{LIST, Listed, lines, list_asked};
use super::naming::name;
use crate::rehearsal::practice::{
    Act, Argument, Asked, Exercise, Group, Named, Operation, Slot, read_act,
};
use crate::terminal::{Action, Checked, Console, Menu, MenuOption, Reply, ValuePrompt};
use crate::text::{Line, Role};

/// The word that ends an exercise.
const NAME: &str = "name";
/// The word that tells the story again.
const STORY: &str = "story";
/// What may be done instead of an act.
const INSTEAD: [Action; 3] = [Action::Board, Action::GiveUp, Action::Stop];

/// How the talk ended.
pub(super) enum Ended {
    /// With what was named, or given up.
    Named(Named),
    /// Left, or the input ended.
    Left,
    /// Interrupted.
    Interrupted,
}

/// The talk.
pub(super) struct Dialogue<'c> {
    pub console: &'c mut dyn Console,
    /// Whether it has lists to walk and filter.
    pub is_screen: bool,
    pub hourly: Option<f64>,
}

/// What is to be done next.
enum Next {
    Do(Act),
    List(Listed),
    Story,
    Board,
    Name,
    Again,
    End(Ended),
}

impl Dialogue<'_> {
    pub fn run(&mut self, exercise: &mut Exercise<'_>) -> Ended {
        self.greet(exercise);
        loop {
            match self.next(exercise) {
                Next::Do(act) => {
                    let told = exercise.act(act);
                    self.console.show(&told.lines);
                }
                Next::List(listed) => {
                    let has = |operation: &Operation| exercise.has(operation);
                    self.console.show(&lines(listed, &[STORY, NAME, Action::GiveUp.word()], &has));
                }
                Next::Story => self.console.show(&exercise.story()),
                Next::Board => {
                    let mut lines = exercise.story();
                    lines.extend(exercise.board());
                    self.console.show(&lines);
                }
                Next::Name => match name(self, exercise) {
                    Ok(Some(named)) => return Ended::Named(named),
                    Ok(None) => {}
                    Err(ended) => return ended,
                },
                Next::Again => {}
                Next::End(ended) => return ended,
            }
        }
    }

    fn greet(&mut self, exercise: &Exercise<'_>) {
        let dealt = exercise.dealt();
        let mut lines = vec![
            Line::strong(format!("Practice, {}, seed {}", dealt.level.word(), dealt.seed)),
            Line::plain(
                "The rig is simulated and its clock runs only with what you do. At a real one the \
                 maker's instructions, local codes and licensed practice come first.",
            ),
        ];
        lines.extend(exercise.story());
        lines.push(
            Line::plain("Find out what is wrong. ")
                .push(Role::Name, LIST)
                .push(Role::Plain, " shows what you can do, ")
                .push(Role::Name, Action::Board.word())
                .push(Role::Plain, " what has been seen, ")
                .push(Role::Name, NAME)
                .push(Role::Plain, " names what is wrong and ends it, ")
                .push(Role::Name, Action::GiveUp.word())
                .push(Role::Plain, " tells it. Time that has passed doesn't come back."),
        );
        self.console.show(&lines);
    }

    /// The clock, and the cost where an hour's is known.
    fn clock(&self, exercise: &Exercise<'_>) -> String {
        let minutes = exercise.minutes();
        match self.hourly {
            Some(hourly) => {
                format!(
                    "{minutes:.0} min, cost {:.0} so far. What do you do?",
                    hourly * minutes / 60.0
                )
            }
            None => format!("{minutes:.0} min. What do you do?"),
        }
    }

    fn next(&mut self, exercise: &Exercise<'_>) -> Next {
        let clock = Line::strong(self.clock(exercise));
        let reply = match self.is_screen {
            true => {
                let standing = Line::plain(exercise.standing());
                return self.pick(exercise, vec![Line::new(), standing, clock]);
            }
            false => self.typed(vec![Line::new(), clock]),
        };
        self.heard(reply).unwrap_or(Next::Again)
    }

    /// What a reply asks for that is no place of a list.
    fn heard(&mut self, reply: Reply) -> Option<Next> {
        Some(match reply {
            Reply::Typed(line) | Reply::Elsewhere(line) => self.understand(&line),
            Reply::Act(Action::Board) => Next::Board,
            Reply::Act(Action::GiveUp) => Next::End(Ended::Named(Named::given_up())),
            Reply::Act(Action::Stop) | Reply::EndOfInput => Next::End(Ended::Left),
            Reply::Interrupted => Next::End(Ended::Interrupted),
            Reply::Chosen(_) | Reply::Act(_) | Reply::Done => return None,
        })
    }

    /// What is done often by itself, all else in groups; a whole line may be typed as well.
    fn pick(&mut self, exercise: &Exercise<'_>, title: Vec<Line>) -> Next {
        let often: Vec<&Operation> = Group::Often.operations().collect();
        let mut options: Vec<MenuOption> = often.iter().map(|known| option(known)).collect();
        let grouped = Group::LISTED.map(Group::called);
        options.extend(grouped.map(|(called, hint)| MenuOption::new(called).with_hint(hint)));
        options.push(MenuOption::new(NAME).with_hint("what is wrong, and end"));
        let actions = INSTEAD.to_vec();
        let reply = self.console.choose(&Menu {
            title,
            options,
            actions,
            hands_back: true,
            ..Menu::default()
        });
        match reply {
            Reply::Chosen(place) => match often.get(place) {
                Some(operation) => self.ask_slots(operation),
                None => match Group::LISTED.get(place - often.len()) {
                    Some(group) => self.pick_of(exercise, *group),
                    None => Next::Name,
                },
            },
            reply => self.heard(reply).unwrap_or(Next::Again),
        }
    }

    fn pick_of(&mut self, exercise: &Exercise<'_>, group: Group) -> Next {
        let known: Vec<&Operation> =
            group.operations().filter(|known| exercise.has(known)).collect();
        let menu = Menu {
            title: vec![Line::strong("Which?")],
            options: known.iter().map(|known| option(known)).collect(),
            ..Menu::default()
        };
        match self.console.choose(&menu) {
            Reply::Chosen(place) => {
                known.get(place).map_or(Next::Again, |operation| self.ask_slots(operation))
            }
            reply => self.heard(reply).unwrap_or(Next::Again),
        }
    }

    fn typed(&mut self, title: Vec<Line>) -> Reply {
        let check = |line: &str| match read_act(line) {
            _ if is_own_word(line) => Checked::Accepted { echo: Line::new() },
            Ok(_) => Checked::Accepted { echo: Line::new() },
            Err(misread) => Checked::Refused(Line::plain(misread.0)),
        };
        let hint = format!("what you do, such as pull 20, or {LIST}, {STORY} or {NAME}");
        self.console.value(&ValuePrompt { title, hint, actions: INSTEAD.to_vec(), check: &check })
    }

    fn understand(&mut self, line: &str) -> Next {
        if let Some(listed) = list_asked(line) {
            return Next::List(listed);
        }
        match line.trim().to_lowercase().as_str() {
            STORY => return Next::Story,
            _ if gives_up(line) => return Next::End(Ended::Named(Named::given_up())),
            _ if names_it(line) => return Next::Name,
            _ => {}
        }
        match read_act(line) {
            Ok(Asked::Act(act)) => Next::Do(act),
            Ok(Asked::More(operation)) => self.ask_slots(operation),
            Err(misread) => {
                self.console.show(&[Line::plain(misread.0)]);
                Next::Again
            }
        }
    }

    /// Asks for what belongs behind the word of an operation.
    fn ask_slots(&mut self, operation: &Operation) -> Next {
        let mut arguments: Vec<Argument> = Vec::new();
        for slot in operation.slots {
            match self.ask_slot(*slot) {
                Ok(argument) => arguments.push(argument),
                Err(next) => return next,
            }
        }
        operation.act(&arguments).map_or(Next::Again, Next::Do)
    }

    fn ask_slot(&mut self, slot: Slot) -> Result<Argument, Next> {
        let title = vec![Line::strong(slot.ask())];
        let reply = match slot {
            Slot::OneOf(_, words) => {
                let option =
                    |(word, means): &(&str, &str)| MenuOption::new(*word).with_hint(*means);
                let options = words.iter().map(option).collect();
                // At a list Esc alone goes back where nothing else can be done.
                let actions = if self.is_screen { Vec::new() } else { vec![Action::Back] };
                self.console.choose(&Menu { title, options, actions, ..Menu::default() })
            }
            _ => {
                let check = |typed: &str| match slot.read(typed) {
                    Ok(_) => Checked::Accepted { echo: Line::new() },
                    Err(why) => {
                        Checked::Refused(Line::plain(format!("{}.", crate::text::capital(&why))))
                    }
                };
                let (hint, actions) = (slot.hint().to_owned(), vec![Action::Back]);
                self.console.value(&ValuePrompt { title, hint, actions, check: &check })
            }
        };
        match reply {
            Reply::Chosen(place) => Ok(Argument::Word(place)),
            Reply::Typed(typed) => slot.read(&typed).map_err(|_| Next::Again),
            Reply::EndOfInput => Err(Next::End(Ended::Left)),
            Reply::Interrupted => Err(Next::End(Ended::Interrupted)),
            _ => Err(Next::Again),
        }
    }
}

fn is_own_word(line: &str) -> bool {
    let is = |word: &&str| line.trim().eq_ignore_ascii_case(word);
    list_asked(line).is_some() || [STORY].iter().any(is) || gives_up(line) || names_it(line)
}

/// Whether a line ends the exercise with a name: `name`, also with what is named behind it, which is
/// asked for by itself.
fn names_it(line: &str) -> bool {
    line.split_whitespace().next().is_some_and(|word| word.eq_ignore_ascii_case(NAME))
}

/// Whether somebody says that they give up, which ends it for good.
fn gives_up(line: &str) -> bool {
    let said = line.trim().trim_end_matches(['.', '!']).to_lowercase();
    ["", "i ", "we "].iter().any(|who| said.strip_prefix(who) == Some(Action::GiveUp.word()))
}

fn option(operation: &Operation) -> MenuOption {
    MenuOption::new(operation.word).with_hint(operation.does)
}
