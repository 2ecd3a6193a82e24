//! Files made side by side: no file needs another, so each is a task for whichever core is free.

use rayon::prelude::*;

use super::{Failure, NamedFile};

/// Makes some files.
pub(super) type Task<'a> = Box<dyn Fn() -> Result<Vec<NamedFile>, Failure> + Send + Sync + 'a>;

/// A task of one kind of file.
pub(super) fn task<'a>(
    make: impl Fn() -> Result<Vec<NamedFile>, Failure> + Send + Sync + 'a,
) -> Task<'a> {
    Box::new(make)
}

/// The files of all tasks in the order of the tasks, however they were shared out.
///
/// # Errors
/// That of the first task in order that fails.
pub(super) fn together(tasks: &[Task<'_>]) -> Result<Vec<NamedFile>, Failure> {
    // Gathered whole before the first error is looked for: which task fails first depends on chance.
    let made: Vec<_> = tasks
        .par_iter()
        .with_max_len(1)
        .map(|task| task())
        .collect();
    let mut files = Vec::new();
    for some in made {
        files.extend(some?);
    }
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_keep_their_order_and_the_first_fault_is_told() {
        let named = |name: &'static str| task(move || Ok(vec![(name.to_owned(), Vec::new())]));
        let fails = |text: &'static str| task(move || Err(Failure::Internal(text.to_owned())));
        let files = together(&[named("a"), named("b"), named("c")]).unwrap();
        let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ["a", "b", "c"]);
        let slow = task(|| {
            std::thread::sleep(std::time::Duration::from_millis(20));
            Err(Failure::Internal("first".to_owned()))
        });
        let Err(Failure::Internal(text)) = together(&[named("a"), slow, fails("second")]) else {
            panic!("two tasks fail");
        };
        assert_eq!(text, "first");
    }
}
