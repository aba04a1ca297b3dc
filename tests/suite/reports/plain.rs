//! The facts of a report without the marks of its form.

/// The text with single blanks.
pub fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The facts of the lines of a text: headings and items without their dashes.
pub fn of_lines(lines: &[dryhold::text::Line]) -> String {
    let bare = |line: &dryhold::text::Line| {
        let text = line.to_text();
        text.strip_prefix("- ").map(str::to_owned).unwrap_or(text)
    };
    let all: Vec<String> = lines.iter().map(bare).collect();
    words(&dryhold::text::inert(&all.join(" ").replace('\n', " ")))
}

/// The facts of a report in Markdown.
pub fn of_markdown(text: &str) -> String {
    let mut bare = String::new();
    for row in text.lines() {
        let row = row.trim_start_matches(['#', ' ']);
        let row = row.strip_prefix("- ").unwrap_or(row);
        let mut letters = row.chars();
        while let Some(c) = letters.next() {
            match c {
                '\\' => bare.extend(letters.next()),
                '*' => {}
                c => bare.push(c),
            }
        }
        bare.push(' ');
    }
    words(&bare)
}

/// The facts of a report as a page, without its chart.
pub fn of_html(text: &str) -> String {
    let (_, body) = text.split_once("<body>").unwrap();
    let body = match (body.split_once("<figure>"), body.split_once("</figure>")) {
        (Some((before, _)), Some((_, after))) => format!("{before}{after}"),
        _ => body.to_owned(),
    };
    let mut bare = String::new();
    let mut rest = body.as_str();
    while let Some((before, behind)) = rest.split_once('<') {
        bare.push_str(before);
        let (tag, after) = behind.split_once('>').unwrap();
        // Only blocks part words; what is bold within a sentence does not.
        if !matches!(tag.trim_start_matches('/'), "b" | "strong" | "i") {
            bare.push(' ');
        }
        rest = after;
    }
    let plain = bare.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"");
    words(&plain.replace("&amp;", "&"))
}
