//! What follows what: links, sinks and the order of courses.

use crate::problem::Problem;

use super::kind::Named;
use super::rules::{pools, unknown};
use super::{FaultKind, Faults, Names, Spot};

pub(super) fn check(problem: &Problem, names: &Names<'_>, faults: &mut Faults) {
    let successors = links(problem, names, faults);
    sinks(problem, names, &successors, faults);
    for steps in circles(&successors) {
        let spot = Spot::named("steps", steps[0], &problem.steps[steps[0]].id);
        let steps = steps.iter().map(|&step| problem.steps[step].id.clone()).collect();
        faults.add(spot, FaultKind::CyclicLinks { steps });
    }
    let earlier = courses(problem, names, faults);
    for courses in circles(&earlier) {
        let spot = Spot::named("courses", courses[0], &problem.courses[courses[0]].id);
        let courses = courses.iter().map(|&course| problem.courses[course].id.clone()).collect();
        faults.add(spot, FaultKind::CyclicCourses { courses });
    }
}

/// The known steps that follow each step.
fn links(problem: &Problem, names: &Names<'_>, faults: &mut Faults) -> Vec<Vec<usize>> {
    let mut successors = vec![Vec::new(); problem.steps.len()];
    for (i, link) in problem.links.iter().enumerate() {
        pools(problem, &link.pools, Spot::entry("links", i), faults);
        let ends = [("from", &link.from), ("to", &link.to)].map(|(field, id)| {
            let step = names.steps.get(id.as_str()).copied();
            if step.is_none() {
                faults.add(Spot::entry("links", i).field(field), unknown(Named::Step, id));
            }
            step
        });
        if let [Some(from), Some(to)] = ends {
            successors[from].push(to);
        }
    }
    successors
}

fn sinks(problem: &Problem, names: &Names<'_>, successors: &[Vec<usize>], faults: &mut Faults) {
    let mut served_by: Vec<Option<usize>> = vec![None; problem.steps.len()];
    for (c, course) in problem.courses.iter().enumerate() {
        for (i, sink) in course.sinks.iter().enumerate() {
            let spot = Spot::named("courses", c, &course.id).inner("sinks", i);
            pools(problem, &sink.pools, spot, faults);
            match names.steps.get(sink.step.as_str()) {
                None => faults.add(spot, unknown(Named::Step, &sink.step)),
                Some(&step) => match served_by[step] {
                    None => served_by[step] = Some(c),
                    Some(first) => {
                        let first = problem.courses[first].id.clone();
                        faults.add(Spot::named("steps", step, &sink.step), FaultKind::SinkTwice { first });
                    }
                },
            }
        }
    }
    for (i, step) in problem.steps.iter().enumerate() {
        let spot = Spot::named("steps", i, &step.id);
        match (served_by[i], successors[i].first()) {
            (None, None) => faults.add(spot, FaultKind::ReachesNoSink),
            (Some(_), Some(&successor)) => {
                let successor = problem.steps[successor].id.clone();
                faults.add(spot, FaultKind::SinkWithSuccessor { successor });
            }
            _ => {}
        }
    }
}

/// The known course that each course follows.
fn courses(problem: &Problem, names: &Names<'_>, faults: &mut Faults) -> Vec<Vec<usize>> {
    let mut earlier = vec![Vec::new(); problem.courses.len()];
    for (i, course) in problem.courses.iter().enumerate() {
        let Some(after) = &course.after else { continue };
        match names.courses.get(after.course.as_str()) {
            Some(&other) => earlier[i].push(other),
            None => {
                let spot = Spot::named("courses", i, &course.id);
                faults.add(spot.field("after"), unknown(Named::Course, &after.course));
            }
        }
    }
    earlier
}

/// Circles of a directed graph: none if there is none, and no two that meet in the node that closes them.
fn circles(successors: &[Vec<usize>]) -> Vec<Vec<usize>> {
    #[derive(Clone, Copy, PartialEq)]
    enum Mark {
        Fresh,
        OnPath,
        Done,
    }
    let mut marks = vec![Mark::Fresh; successors.len()];
    let mut named = vec![false; successors.len()];
    let mut found = Vec::new();
    for root in 0..successors.len() {
        if marks[root] != Mark::Fresh {
            continue;
        }
        // The nodes from the root to where we are, each with the number of successors already seen.
        let mut path = vec![(root, 0)];
        marks[root] = Mark::OnPath;
        while let Some((node, seen)) = path.last_mut() {
            let Some(&next) = successors[*node].get(*seen) else {
                marks[*node] = Mark::Done;
                path.pop();
                continue;
            };
            *seen += 1;
            match marks[next] {
                Mark::Fresh => {
                    marks[next] = Mark::OnPath;
                    path.push((next, 0));
                }
                Mark::OnPath if !named[next] => {
                    let circle: Vec<usize> =
                        path.iter().map(|&(node, _)| node).skip_while(|&node| node != next).collect();
                    circle.iter().for_each(|&node| named[node] = true);
                    found.push(circle);
                }
                Mark::OnPath | Mark::Done => {}
            }
        }
    }
    found
}
