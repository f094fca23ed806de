//! Who works when: the engines take turns, goal by goal.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;

use crate::board::Board;
use crate::exchange::Exchange;
use crate::instance::Instance;
use crate::learn::Learner;
use crate::limits::Limits;
use crate::local::{Able, Improver};
use crate::price::Pricer;
use crate::program;
use crate::workload;

/// Work for the first turn of an engine, for each step there is and at most; later turns are longer.
const FIRST_TURN: u64 = 20;
const LONGEST_FIRST_TURN: u64 = 1_000;
/// Work for the longest turn.
const LONGEST_TURN: u64 = 60_000;
/// Turns before a small feast is given to an integer program as a whole: most are proved by then.
const TURNS_BEFORE_PROGRAM: u32 = 4;
/// Turns before pairs of dishes inside the best plan are planned anew by integer programs.
const TURNS_BEFORE_REWORK: u32 = 8;
/// Work for that.
const REWORK: u64 = 1_000;

/// Conflicts after which a plan counts as one that nobody can do.
const COMPLETION: u64 = 500;

/// Which engines a thread has besides the one that learns.
#[derive(Clone, Copy)]
struct Crew {
    improves: bool,
    prices: bool,
}

/// How many slices each engine gets in a turn at waiting.
struct Shares {
    /// A unit of its work takes about a tenth of the time of the learner's.
    pricer: u64,
    learner: u64,
}

impl Shares {
    /// Branch-and-price makes the prices and closes what is nearly closed; under its prices learning finds better plans, and
    /// closes what is left. That takes long where it is not done soon, so it gets more time in the end.
    fn of(board: &Board<'_, '_, '_>) -> Self {
        Shares { pricer: 10, learner: if board.is_nearly_proved(1) { 10 } else { 4 } }
    }
}

/// Lets the engines work until all is proved or a limit is reached.
///
/// Turns are counted in work, never in time, so that on one thread the same limit gives the same plan.
pub(crate) fn run(board: &mut Board<'_, '_, '_>) {
    if board.limits().threads < 2 {
        return take_turns(board, Crew { improves: true, prices: true });
    }
    let (problem, goals, limits) = (board.instance.problem, board.goals(), *board.limits());
    let exchange = Arc::new(Exchange::default());
    board.join(exchange.clone());
    let is_over = AtomicBool::new(false);
    let stop = || is_over.load(Ordering::Relaxed) || limits.stop.is_some_and(|stop| stop());
    let limits = Limits { stop: Some(&stop), progress: None, ..limits };
    // Each thread has an instance and a board of its own; only plans and bounds go to and fro.
    let prove = || {
        let Ok(instance) = Instance::until(problem, limits.halt()) else { return };
        let mut other = Board::new(&instance, &limits);
        other.limit_goals(goals);
        other.join(exchange);
        take_turns(&mut other, Crew { improves: false, prices: true });
        other.part();
    };
    thread::scope(|scope| {
        // Where no thread is to be had, one search does it all.
        let other = thread::Builder::new().spawn_scoped(scope, prove);
        take_turns(board, Crew { improves: true, prices: other.is_err() });
        is_over.store(true, Ordering::Relaxed);
    });
    board.part();
}

fn take_turns(board: &mut Board<'_, '_, '_>, crew: Crew) {
    let instance = board.instance;
    if instance.halt.said() {
        // What was not looked at before is in doubt: nothing is begun.
        board.spend(0);
        return;
    }
    let mut improver = crew.improves.then(|| Improver::new(instance, able(instance)));
    // Prices and integer programs know rows of cooks, and not who does what: they would take plans for done that are not.
    let all_know = instance.crew.is_none();
    let mut pricer = (crew.prices && all_know).then(|| Pricer::new(instance)).flatten();
    let mut learner: Option<Learner<'_>> = None;
    let mut turn = (FIRST_TURN * instance.steps.len() as u64).clamp(1, LONGEST_FIRST_TURN);
    let mut turns = 0;
    if board.open_goal() == Some(0) {
        workload::bound(board);
    }
    while let Some(goal) = board.open_goal() {
        if let Some(improver) = &mut improver {
            // Few plans are as good in the first two goals, and fewer are found by improving. Where any plan will do it is found
            // early or not at all; and sooner servings are mostly found by learning.
            let share = match goal {
                _ if board.goals() == 0 => 8,
                0 if board.incumbent().is_some() => 4,
                2 => 8,
                _ => 1,
            };
            board.start_slice(turn.div_ceil(share));
            improver.run(board);
        }
        if goal == 1
            && board.open_goal() == Some(goal)
            && let Some(pricer) = pricer.as_mut().filter(|pricer| !pricer.gives_up())
        {
            board.start_slice(Shares::of(board).pricer * turn);
            pricer.run(board);
        }
        if board.open_goal().is_none() {
            return;
        }
        let learner = learner.get_or_insert_with(|| Learner::new(instance));
        if goal > 0
            && learner.may_narrow(board)
            && let Some(reduced_costs) = pricer.as_mut().and_then(Pricer::reduced_costs)
        {
            learner.narrow(board, reduced_costs);
        }
        if board.open_goal() == Some(goal) {
            board.start_slice(if goal == 1 { Shares::of(board).learner * turn } else { turn });
            learner.run(board, goal);
        }
        turns += 1;
        if crew.improves && all_know {
            integrate(board, goal, turns, turn);
        }
        if board.stopped().is_some() || board.close_enough() {
            return;
        }
        turn = (turn + turn / 2).min(LONGEST_TURN);
    }
}

/// Who says whether somebody can be found for all the work of a plan: an engine that learns, for that alone.
fn able<'i>(instance: &'i Instance<'_>) -> Option<Able<'i>> {
    instance.crew.as_ref()?;
    let mut learner: Option<Learner<'i>> = None;
    Some(Box::new(move |plan| {
        let learner = learner.get_or_insert_with(|| Learner::new(instance));
        learner.complete(plan, instance, COMPLETION).is_some()
    }))
}

/// After some turns integer programs are asked.
fn integrate(board: &mut Board<'_, '_, '_>, goal: usize, turns: u32, turn: u64) {
    if goal < 2 && turns == TURNS_BEFORE_PROGRAM && board.open_goal() == Some(goal) {
        board.start_slice(turn);
        program::prove(board, turn);
    }
    if goal == 1 && turns == TURNS_BEFORE_REWORK && board.open_goal() == Some(goal) {
        board.start_slice(turn);
        program::rework(board, REWORK);
    }
}
