//! What is drawn, as a value.

/// What a box stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Form {
    /// A question.
    Ask,
    /// Something to do.
    Do,
    /// An action of the handbook.
    Action,
    /// Another tree, run and come back from.
    Visit,
    /// The work must not go on.
    Stop,
    /// The tree is done.
    End,
    /// Another tree, gone on to or offered.
    Tree,
}

impl Form {
    /// The word above the box's text.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Ask => "ask",
            Self::Do => "do",
            Self::Action => "action",
            Self::Visit => "visit",
            Self::Stop => "STOP",
            Self::End => "end",
            Self::Tree => "tree",
        }
    }
}

/// How a box or a line is stroked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Mark {
    /// As it is.
    #[default]
    Plain,
    /// A thick stroke: passed, or reached.
    Thick,
    /// A dashed stroke: never reached.
    Dashed,
}

/// A box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// What it stands for.
    pub form: Form,
    /// Its id in the handbook.
    pub name: String,
    /// What it says.
    pub text: String,
    /// How it is stroked.
    pub mark: Mark,
    /// What the stroke means, in words; may be empty.
    pub note: String,
}

impl Node {
    /// A box without a mark.
    #[must_use]
    pub fn new(form: Form, name: impl Into<String>, text: impl Into<String>) -> Self {
        Self { form, name: name.into(), text: text.into(), mark: Mark::Plain, note: String::new() }
    }

    /// Its kind and its id: `ask: oil_look`.
    #[must_use]
    pub fn head(&self) -> String {
        format!("{}: {}", self.form.word(), self.name)
    }
}

/// A line from one box to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edge {
    /// The place of the box that it leaves.
    pub from: usize,
    /// The place of the box that it leads to.
    pub to: usize,
    /// What leads along it; empty where nothing else does.
    pub label: String,
    /// How it is stroked.
    pub mark: Mark,
}

/// A drawing before it is laid out. Every place of an edge is that of a node.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Graph {
    /// What it shows.
    pub title: String,
    /// The boxes; the first is where it starts.
    pub nodes: Vec<Node>,
    /// The lines, at most one from one box to another.
    pub edges: Vec<Edge>,
    /// What strokes mean, in words.
    pub legend: Vec<String>,
}

impl Graph {
    /// A drawing without a legend. Lines between the same two boxes become one with both labels;
    /// lines that lead nowhere are left out.
    #[must_use]
    pub fn new(title: impl Into<String>, nodes: Vec<Node>, edges: Vec<Edge>) -> Self {
        let mut joined: Vec<Edge> = Vec::new();
        for edge in edges {
            if edge.from >= nodes.len() || edge.to >= nodes.len() {
                continue;
            }
            let same = joined.iter_mut().find(|one| (one.from, one.to) == (edge.from, edge.to));
            match same {
                Some(one) => {
                    let labels = [&one.label, &edge.label].map(String::as_str);
                    let labels: Vec<&str> = labels.into_iter().filter(|l| !l.is_empty()).collect();
                    one.label = labels.join(" | ");
                }
                None => joined.push(edge),
            }
        }
        Self { title: title.into(), nodes, edges: joined, legend: Vec::new() }
    }

    /// What it shows in a sentence, for whoever can't see it.
    #[must_use]
    pub fn described(&self) -> String {
        let lines: Vec<String> = self
            .edges
            .iter()
            .map(|edge| {
                let label = if edge.label.is_empty() { "always" } else { &edge.label };
                let (from, to) = (&self.nodes[edge.from].name, &self.nodes[edge.to].name);
                format!("{from} to {to} ({label})")
            })
            .collect();
        let boxes: Vec<String> = self.nodes.iter().map(Node::head).collect();
        let lines = if lines.is_empty() { "none".to_owned() } else { lines.join("; ") };
        let parts = [self.legend.join(" "), format!("Boxes: {}.", boxes.join("; "))];
        let said: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        format!("{} Lines: {lines}.", said.join(" "))
    }
}
