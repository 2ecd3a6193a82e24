//! The dialogue of `start --ask`, read line by line so that a script can hold it as well.

use std::io::{BufRead, Read as _, Write};

use crate::cli::style::{QUIET, STRONG, clean, fill, paint};
use crate::input::Unit;
use crate::input::measured::{Measured, asked};

use super::answer::{Answer, Answers, read, show, unit_name};
use super::kinds::Kind;
use super::questions;

/// A typed line longer than this is no answer.
const LONGEST_LINE: u64 = 4096;

/// How the dialogue ended.
#[derive(Debug, PartialEq)]
pub enum Ended {
    /// All ten answered.
    Answered(Answers),
    /// The person left.
    Quit,
    /// Input ended first.
    NoMoreInput,
}

/// What one typed line means.
enum Typed {
    Text(String),
    Back,
    Quit,
    End,
}

/// Asks for the ten numbers; `unit` is that of a bare number until the person types another. With
/// `echo` each answer is repeated, for input that does not show itself.
///
/// # Errors
/// Input that cannot be read or output that cannot be written.
pub fn ask(
    kind: &Kind,
    unit: Option<Unit>,
    input: &mut impl BufRead,
    screen: &mut impl Write,
    echo: bool,
) -> std::io::Result<Ended> {
    let mut unit = unit.unwrap_or(kind.unit);
    write!(screen, "{}", greeting(kind, unit))?;
    let mut lengths: Vec<Answer> = Vec::new();
    while let Some(question) = asked().get(lengths.len()) {
        write!(screen, "{}", heading(question))?;
        let before: Vec<f64> = lengths.iter().map(|answer| answer.mm).collect();
        // Asked again until it is answered, or the person goes elsewhere.
        loop {
            let prompt = format!("{} [{}]> ", question.letter, unit.name());
            match line(&prompt, input, screen, echo)? {
                Typed::End => return Ok(Ended::NoMoreInput),
                Typed::Quit => return Ok(Ended::Quit),
                Typed::Back => {
                    if lengths.pop().is_none() {
                        writeln!(screen, "   This is the first question.")?;
                    }
                    break;
                }
                Typed::Text(text) if unit_named(&text).is_some() => {
                    unit = unit_named(&text).unwrap_or(unit);
                    writeln!(screen, "   A bare number is now in {}.", unit_name(unit))?;
                }
                Typed::Text(text) => match judged(kind, question, &text, unit, &before) {
                    Ok((answer, remark)) => {
                        writeln!(screen, "   {} = {}", question.letter, show(answer.mm, unit))?;
                        if let Some(remark) = remark {
                            write!(screen, "{}", fill(&remark, 3))?;
                        }
                        lengths.push(answer);
                        break;
                    }
                    Err(objection) => write!(screen, "{}", fill(&objection, 3))?,
                },
            }
        }
    }
    let answers = Answers { unit, lengths };
    write!(screen, "{}", understood(&answers))?;
    Ok(Ended::Answered(answers))
}

fn greeting(kind: &Kind, unit: Unit) -> String {
    let is = unit_name(unit);
    let other = match unit {
        Unit::Mm => "in",
        Unit::Inch => "mm",
    };
    fill(
        &format!(
            "Ten numbers for a {} ({}): first the set of machines, A to F, with calipers, then the \
             head, G to J. An answer may carry its unit: 10.5 mm, 0.413 in, 13/32 in, 1-3/8 in. \
             A bare number is in {is}; type `{other}` to change that. `back` goes one question back, `quit` writes nothing.",
            kind.name, kind.about
        ),
        0,
    )
}

fn heading(question: &Measured) -> String {
    format!(
        "\n{}  {}\n{}",
        paint(STRONG, &question.letter.to_string()),
        paint(STRONG, question.name),
        fill(question.how, 3)
    )
}

/// The unit that a typed word names.
fn unit_named(text: &str) -> Option<Unit> {
    match text.to_lowercase().as_str() {
        "mm" => Some(Unit::Mm),
        "in" | "inch" | "inches" => Some(Unit::Inch),
        _ => None,
    }
}

/// An answer with a remark, or why it is asked for again.
fn judged(
    kind: &Kind,
    question: &Measured,
    text: &str,
    unit: Unit,
    before: &[f64],
) -> Result<(Answer, Option<String>), String> {
    if text.is_empty() {
        return Err("This one cannot be guessed; measure it, or type `quit`.".into());
    }
    let answer = read(text, unit)
        .map_err(|error| format!("`{}` {}; type {}", clean(text), error.message, error.hint))?;
    match questions::objection(kind, question.letter, answer.mm, before, unit) {
        Some(objection) => Err(format!("That cannot be right: {objection}")),
        None => {
            let remark = questions::remark(question.letter, answer.mm, before, unit);
            Ok((answer, remark))
        }
    }
}

fn line(
    prompt: &str,
    input: &mut impl BufRead,
    screen: &mut impl Write,
    echo: bool,
) -> std::io::Result<Typed> {
    write!(screen, "{prompt}")?;
    screen.flush()?;
    let mut bytes = Vec::new();
    let count = input
        .by_ref()
        .take(LONGEST_LINE)
        .read_until(b'\n', &mut bytes)?;
    if count == 0 {
        writeln!(screen)?;
        return Ok(Typed::End);
    }
    let text = String::from_utf8_lossy(&bytes).trim().to_owned();
    if echo {
        writeln!(screen, "{}", clean(&text))?;
    }
    Ok(match text.to_lowercase().as_str() {
        "back" => Typed::Back,
        "quit" => Typed::Quit,
        _ => Typed::Text(text),
    })
}

fn understood(answers: &Answers) -> String {
    let mut out = format!("\n{}\n", paint(STRONG, "Understood"));
    for (question, answer) in asked().iter().zip(&answers.lengths) {
        let shown = show(answer.mm, answers.unit);
        let dots = ".".repeat(40usize.saturating_sub(question.name.len() + shown.len()));
        out.push_str(&format!(
            "   {}  {} {} {shown}\n",
            question.letter,
            question.name,
            paint(QUIET, &dots)
        ));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::start::kinds;

    fn hold(typed: &str, unit: Option<Unit>) -> (Ended, String) {
        let mut screen = Vec::new();
        let ended = ask(
            kinds::usual(),
            unit,
            &mut typed.as_bytes(),
            &mut screen,
            true,
        )
        .unwrap();
        let screen = String::from_utf8(screen).unwrap();
        (ended, anstream::adapter::strip_str(&screen).to_string())
    }

    const GOOD: &str = "10\n30.5\n19\n80\n17.4\n105.5\n20.4\n63\n71\n184\n";

    fn millimetres(ended: &Ended) -> Vec<f64> {
        match ended {
            Ended::Answered(answers) => answers.lengths.iter().map(|answer| answer.mm).collect(),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn ten_answers_and_nothing_else_are_enough() {
        let (ended, screen) = hold(GOOD, Some(Unit::Mm));
        let expected = [10.0, 30.5, 19.0, 80.0, 17.4, 105.5, 20.4, 63.0, 71.0, 184.0];
        assert_eq!(millimetres(&ended), expected);
        assert!(screen.contains("Understood"), "{screen}");
        // The unit is asked for where it is not given; an empty answer takes the one offered.
        assert_eq!(millimetres(&hold(&format!("\n{GOOD}"), None).0), expected);
        assert_eq!(
            millimetres(&hold(&format!("furlong\nmm\n{GOOD}"), None).0),
            expected
        );
    }

    #[test]
    fn wrong_answers_are_asked_again() {
        let typed = GOOD.replace("10\n30.5\n", "ten\n-10\n0\n\n10,0\n4000\n10\n10\n30.5\n");
        let (ended, screen) = hold(&typed, Some(Unit::Mm));
        assert_eq!(millimetres(&ended)[..2], [10.0, 30.5]);
        assert_eq!(
            screen.matches("That cannot be right").count(),
            4,
            "{screen}"
        );
        assert!(screen.contains("comma"), "{screen}");
        assert!(screen.contains("cannot be guessed"), "{screen}");
    }

    #[test]
    fn back_mends_the_answer_before() {
        let typed = format!("back\n12\nback\n{GOOD}");
        let (ended, screen) = hold(&typed, Some(Unit::Mm));
        assert!((millimetres(&ended)[0] - 10.0).abs() < 1e-12);
        assert!(screen.contains("This is the first question."));
    }

    #[test]
    fn either_unit_in_one_dialogue() {
        let typed = GOOD.replace("10\n30.5", "13/32 in\n1-3/16 in");
        let lengths = millimetres(&hold(&typed, Some(Unit::Mm)).0);
        assert!((lengths[0] - 10.318_75).abs() < 1e-12);
        assert!((lengths[1] - 30.162_5).abs() < 1e-12);
    }

    #[test]
    fn inches_are_answered_in_inches() {
        let typed = "13/32\n0.4\n1.2\nquit\n";
        let (_, screen) = hold(typed, Some(Unit::Inch));
        assert!(screen.contains("A bare number is in inches"), "{screen}");
        assert!(screen.contains("A = 0.406 in (10.32 mm)"), "{screen}");
        assert!(screen.contains("A is 0.406 in (10.32 mm)"), "{screen}");
    }

    #[test]
    fn a_bare_number_keeps_the_unit_it_was_typed_in() {
        let typed = format!("10\nin\n1.2\nmm\n{}", GOOD.replacen("10\n30.5\n", "", 1));
        let typed = typed.replacen("184\n", "in\n7.25\n", 1);
        let Ended::Answered(answers) = hold(&typed, Some(Unit::Mm)).0 else {
            panic!("not answered");
        };
        assert_eq!(answers.unit, Unit::Inch);
        assert_eq!(answers.typed('A'), "\"10 mm\"");
        assert_eq!(answers.typed('B'), "1.2");
        assert_eq!(answers.typed('C'), "\"19 mm\"");
        assert_eq!(answers.typed('J'), "7.25");
    }

    #[test]
    fn leaving_early() {
        assert_eq!(hold("10\nquit\n", Some(Unit::Mm)).0, Ended::Quit);
        assert_eq!(hold("10\n30.5\n", Some(Unit::Mm)).0, Ended::NoMoreInput);
        assert_eq!(hold("", None).0, Ended::NoMoreInput);
        let endless = "9".repeat(100_000);
        assert_eq!(hold(&endless, Some(Unit::Mm)).0, Ended::NoMoreInput);
    }
}
