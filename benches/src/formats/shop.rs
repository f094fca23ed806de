//! Job shops and flexible job shops: a job is a dish, a machine a hob with one burner, a choice of machine a mode.

use rangewright::models::problem::{Hob, Minute, Mode, Place, Problem};

use super::tokens::{Numbers, ReadError, numbered};
use super::{dish, link, race, rigid, step};

/// More jobs, operations or machines than any published instance has.
const MANY: usize = 10_000;
const LONG: i64 = 43_200;

/// A job: its operations in order, each with the machines that can do it and the minutes each takes.
type Job = Vec<Vec<(usize, Minute)>>;

/// Reads a job shop in the usual `.jss` form: a line with the numbers of jobs and machines, then for each job pairs of
/// machine (from 0) and duration. Lines that begin with `#` are remarks.
///
/// # Errors
/// The first thing in the file that is not of this form.
pub fn read_job_shop(name: &str, text: &str) -> Result<Problem, ReadError> {
    let mut numbers = Numbers::of_lines(without_remarks(text));
    let jobs = numbers.next_count("the number of jobs", 1, MANY)?;
    let machines = numbers.next_count("the number of machines", 1, MANY)?;
    let mut shop = Vec::new();
    for _ in 0..jobs {
        let mut job = Job::new();
        for _ in 0..machines {
            let machine = numbers.next_count("a machine", 0, machines - 1)?;
            job.push(vec![(machine, numbers.next_in("a duration", 0, LONG)?)]);
        }
        shop.push(job);
    }
    numbers.end()?;
    Ok(to_problem(name, machines, &shop))
}

/// Reads a flexible job shop in the usual `.fjs` form: a line with the numbers of jobs and machines (and, unused, the average
/// choice), then for each job the number of operations, and for each operation the number of choices and pairs of machine
/// (from 1) and duration.
///
/// # Errors
/// The first thing in the file that is not of this form.
pub fn read_flexible_job_shop(name: &str, text: &str) -> Result<Problem, ReadError> {
    let mut lines = without_remarks(text);
    let mut header = Numbers::of_lines(lines.next());
    let jobs = header.next_count("the number of jobs", 1, MANY)?;
    let machines = header.next_count("the number of machines", 1, MANY)?;
    let mut numbers = Numbers::of_lines(lines);
    let mut shop = Vec::new();
    for _ in 0..jobs {
        let mut job = Job::new();
        for _ in 0..numbers.next_count("the number of operations", 1, MANY)? {
            let mut choices = Vec::new();
            for _ in 0..numbers.next_count("the number of choices", 1, MANY)? {
                let machine = numbers.next_count("a machine", 1, machines)?;
                choices.push((machine - 1, numbers.next_in("a duration", 0, LONG)?));
            }
            job.push(choices);
        }
        shop.push(job);
    }
    numbers.end()?;
    Ok(to_problem(name, machines, &shop))
}

fn without_remarks(text: &str) -> impl Iterator<Item = (usize, &str)> {
    numbered(text).filter(|(_, line)| !line.starts_with('#') && !line.trim().is_empty())
}

fn to_problem(name: &str, machines: usize, shop: &[Job]) -> Problem {
    // One operation after the other, each on its fastest machine, is always possible.
    let horizon = shop.iter().flatten().filter_map(|choices| choices.iter().map(|(_, minutes)| minutes).min()).sum();
    let id = |job: usize, operation: usize| format!("j{job:02}.{operation:02}");
    let ends: Vec<_> = shop.iter().enumerate().map(|(j, job)| id(j, job.len() - 1)).collect();
    let mut problem = race(name, horizon, &ends);
    problem.places = (0..machines).map(|machine| Place::Hob(burner(machine))).collect();
    for (j, job) in shop.iter().enumerate() {
        let dish_id = format!("j{j:02}");
        for (o, choices) in job.iter().enumerate() {
            let modes = choices.iter().map(|(machine, minutes)| on_machine(*machine, *minutes)).collect();
            problem.steps.push(step(&id(j, o), &dish_id, "operation", modes));
        }
        problem.links.extend((1..job.len()).map(|o| link(&id(j, o - 1), &id(j, o), 0, None)));
        problem.dishes.push(dish(&dish_id));
    }
    problem
}

fn machine_id(machine: usize) -> String {
    format!("m{machine:02}")
}

fn burner(machine: usize) -> Hob {
    Hob { id: machine_id(machine), count: 1, scale: [1, 9], min_diameter: 100, max_diameter: 300 }
}

fn on_machine(machine: usize, minutes: Minute) -> Mode {
    // What takes no time takes no machine either.
    if minutes == 0 {
        return rigid(0);
    }
    Mode { place: Some(machine_id(machine)), level: Some([1, 9]), diameter: Some(200), ..rigid(minutes) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_job_shop_becomes_burners_and_chains() {
        let problem = read_job_shop("two", "# a remark\n2 2\n0 3  1 4\n1 2  0 0\n").expect("well formed");
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
        assert_eq!(problem.places.len(), 2);
        assert_eq!(problem.steps.len(), 4);
        assert_eq!(problem.steps[1].modes[0].place.as_deref(), Some("m01"));
        assert_eq!(problem.steps[1].modes[0].min, 4);
        assert_eq!(problem.steps[3].modes[0].place, None, "an operation of no minutes is kept on the counter");
        assert_eq!(problem.links.len(), 2);
        assert_eq!(problem.courses[0].max_slip, 9);
        let sinks: Vec<_> = problem.courses[0].sinks.iter().map(|sink| sink.step.as_str()).collect();
        assert_eq!(sinks, ["j00.01", "j01.01"]);
    }

    #[test]
    fn a_choice_of_machine_becomes_a_mode() {
        let problem = read_flexible_job_shop("one", "1 2 1.5\r\n2 2 1 5 2 3 1 2 7 \r\n").expect("well formed");
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
        let modes = &problem.steps[0].modes;
        assert_eq!((modes[0].place.as_deref(), modes[0].min), (Some("m00"), 5));
        assert_eq!((modes[1].place.as_deref(), modes[1].min), (Some("m01"), 3));
        assert_eq!(problem.courses[0].max_slip, 10);
    }

    #[test]
    fn faults_name_their_line() {
        let error = read_job_shop("x", "1 2\n0 3 2 4\n").expect_err("machine 2 of 2");
        assert_eq!(error, ReadError { line: 2, what: "a machine is 2, not in 0 to 1".to_owned() });
        let error = read_job_shop("x", "1 2\n0 3 1\n").expect_err("too short");
        assert_eq!(error.line, 2);
        assert!(read_job_shop("x", "1 1\n0 3 1\n").is_err(), "too long");
        assert!(read_job_shop("x", "").is_err());
        assert!(read_job_shop("x", "1 1\n0 -9223372036854775808").is_err());
        assert!(read_flexible_job_shop("x", "1 1\n1 1 1 x\n").is_err());
        assert!(read_flexible_job_shop("x", "").is_err());
    }
}
