//! Project instances: PSPLIB's headed sections, and ProGen/max's bare numbers.

use rangewright::models::problem::Problem;

use super::network::{Activity, Lag, Network};
use super::tokens::{Numbers, ReadError, numbered};

const MANY: usize = 10_000;
const LONG: i64 = 43_200;

/// Reads a single-mode project in PSPLIB's `.sm` form. A successor starts once its predecessor has ended.
///
/// # Errors
/// The first section or number that is missing or out of range.
pub fn read_psplib(name: &str, text: &str) -> Result<Problem, ReadError> {
    let lines: Vec<_> = numbered(text).collect();
    let count = setting(&lines, "jobs")?.next_count("the number of jobs", 1, MANY)?;
    let resources = setting(&lines, "- renewable")?.next_count("the number of renewable resources", 0, MANY)?;
    if setting(&lines, "- nonrenewable")?.next("the number of nonrenewable resources")? != 0 {
        return Err(ReadError::new(1, "nonrenewable resources are not supported"));
    }

    let mut requests = section(&lines, "REQUESTS/DURATIONS", 2, count)?;
    let mut activities = Vec::new();
    for job in 1..=count {
        requests.next_count("the number of the job", job, job)?;
        requests.next_count("the number of the mode", 1, 1)?;
        activities.push(activity(&mut requests, resources)?);
    }
    requests.end()?;

    let mut precedence = section(&lines, "PRECEDENCE RELATIONS", 1, count)?;
    let mut lags = Vec::new();
    for (from, activity) in activities.iter().enumerate() {
        precedence.next_count("the number of the job", from + 1, from + 1)?;
        precedence.next_count("the number of modes", 1, 1)?;
        for _ in 0..precedence.next_count("the number of successors", 0, count)? {
            let to = precedence.next_count("a successor", 1, count)? - 1;
            lags.push(lag(&precedence, from, to, activity.duration)?);
        }
    }
    precedence.end()?;

    let mut capacities = section(&lines, "RESOURCEAVAILABILITIES", 1, 1)?;
    let network = Network { activities, lags, capacities: amounts(&mut capacities, resources)? };
    capacities.end()?;
    Ok(network.to_problem(name))
}

/// Reads a single-mode project with minimal and maximal time lags in the `.sch` form of ProGen/max: a line with the numbers of
/// activities (the first and the last, which stand for start and end, not counted) and resources; for each activity its number,
/// 1, its successors and their lags; for each its number, 1, its duration and demands; and the capacities.
///
/// # Errors
/// The first number that is missing or out of range.
pub fn read_progen(name: &str, text: &str) -> Result<Problem, ReadError> {
    let text = text.replace(['[', ']'], " ");
    let mut lines = numbered(&text).filter(|(_, line)| !line.trim().is_empty());
    let mut header = Numbers::of_lines(lines.next());
    let count = header.next_count("the number of activities", 0, MANY)? + 2;
    let resources = header.next_count("the number of renewable resources", 0, MANY)?;
    while header.is_open() {
        header.next_in("the number of other resources", 0, 0)?;
    }

    let mut numbers = Numbers::of_lines(lines);
    let mut lags = Vec::new();
    for from in 0..count {
        numbers.next_count("the number of the activity", from, from)?;
        numbers.next_count("the number of modes", 1, 1)?;
        let successors = numbers.next_count("the number of successors", 0, count)?;
        let mut targets = Vec::new();
        for _ in 0..successors {
            targets.push(numbers.next_count("a successor", 0, count - 1)?);
        }
        for to in targets {
            let minutes = numbers.next_in("a time lag", -LONG, LONG)?;
            lags.push(lag(&numbers, from, to, minutes)?);
        }
    }
    let mut activities = Vec::new();
    for number in 0..count {
        numbers.next_count("the number of the activity", number, number)?;
        numbers.next_count("the number of the mode", 1, 1)?;
        activities.push(activity(&mut numbers, resources)?);
    }
    let capacities = amounts(&mut numbers, resources)?;
    numbers.end()?;
    Ok(Network { activities, lags, capacities }.to_problem(name))
}

fn activity(numbers: &mut Numbers<'_>, resources: usize) -> Result<Activity, ReadError> {
    let duration = numbers.next_in("a duration", 0, LONG)?;
    Ok(Activity { duration, demands: amounts(numbers, resources)? })
}

fn amounts(numbers: &mut Numbers<'_>, resources: usize) -> Result<Vec<i64>, ReadError> {
    (0..resources).map(|_| numbers.next_in("an amount of a resource", 0, LONG)).collect()
}

fn lag(numbers: &Numbers<'_>, from: usize, to: usize, minutes: i64) -> Result<Lag, ReadError> {
    if from == to {
        return Err(ReadError::new(numbers.line(), "a lag from an activity to itself"));
    }
    Ok(Lag { from, to, lag: minutes })
}

/// The number after the colon of the line that begins with `title`.
fn setting<'a>(lines: &[(usize, &'a str)], title: &str) -> Result<Numbers<'a>, ReadError> {
    let found = lines.iter().find(|(_, line)| line.trim_start().starts_with(title));
    let (number, line) = found.ok_or_else(|| ReadError::new(lines.len(), format!("no line begins with `{title}`")))?;
    let (_, value) = line.split_once(':').unwrap_or_default();
    Ok(Numbers::of_lines(value.split_whitespace().next().map(|word| (*number, word))))
}

/// The `count` lines of a section, past its title and `skipped` lines of headings.
fn section<'a>(
    lines: &[(usize, &'a str)],
    title: &str,
    skipped: usize,
    count: usize,
) -> Result<Numbers<'a>, ReadError> {
    let found = lines.iter().position(|(_, line)| line.starts_with(title));
    let start = found.ok_or_else(|| ReadError::new(lines.len(), format!("no section `{title}`")))?;
    Ok(Numbers::of_lines(lines[start..].iter().copied().skip(1 + skipped).take(count)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SM: &str = "\
jobs (incl. supersource/sink ):  4
RESOURCES
  - renewable                 :  2   R
  - nonrenewable              :  0   N
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           4
   4        1          0        
************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  R 2
------------------------------------
  1      1     0       0    0
  2      1     8       4    0
  3      1     4       3    1
  4      1     0       0    0
************************************
RESOURCEAVAILABILITIES:
  R 1  R 2
    5    1
";

    #[test]
    fn headed_sections() {
        let problem = read_psplib("four", SM).expect("well formed");
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
        assert_eq!(problem.steps.len(), 4);
        assert_eq!(problem.links.len(), 4);
        assert!(problem.links.iter().all(|link| link.min == 0 && link.max.is_none()));
        assert_eq!(problem.shifts[0].hands, 5);
        assert_eq!(problem.pools.get("r2"), Some(&1));
        assert_eq!(problem.steps[2].modes[0].hands, 3);
        assert_eq!(problem.courses[0].sinks[0].step, "a03");
    }

    #[test]
    fn a_missing_section_is_named() {
        let error = read_psplib("x", &SM.replace("REQUESTS", "WISHES")).expect_err("no such section");
        assert!(error.what.contains("REQUESTS/DURATIONS"), "{error}");
        assert!(read_psplib("x", "").is_err());
        assert!(read_psplib("x", &SM.replace(":  0   N", ":  1   N")).is_err());
        assert!(read_psplib("x", &SM.replace("  1           4", "  1           2")).is_err(), "before itself");
    }

    #[test]
    fn bare_numbers_with_lags() {
        let text = "2\t1\t0\t0\r\n0\t1\t2\t1\t2\t[0]\t[3]\r\n1\t1\t2\t2\t3\t[-1]\t[4]\r\n2\t1\t2\t1\t3\t[-7]\t[5]\r\n3\t1\t0\r\n\
                    0\t1\t0\t0\r\n1\t1\t4\t1\r\n2\t1\t5\t1\r\n3\t1\t0\t0\r\n2\r\n";
        let problem = read_progen("two", text).expect("well formed");
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
        let link = problem.links.iter().find(|link| link.from == "a01" && link.to == "a02").expect("linked");
        assert_eq!((link.min, link.max), (-5, Some(3)), "2 starts at least -1 and at most 7 after 1 starts");
        assert!(read_progen("x", "").is_err());
        assert!(read_progen("x", &text.replace("[3]", "")).is_err());
    }
}
