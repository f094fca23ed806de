//! From raw meat to what is eaten as it is, on one board.

use super::*;
use crate::hazard::{Finding, Night, Spell};
use crate::kitchen::SHELF;
use crate::larder::Food;
use crate::menu::{Kind, slug};

/// Minutes a wash takes, and minutes within which one counter is taken for one.
const WASH: i64 = 1;
const NEAR: i64 = 10;
/// A pool of more than so many is nothing that is washed: watts.
const MOST_TOOLS: i64 = 20;

pub(super) const HAZARD: Hazard = Hazard {
    code: "raw-then-ready",
    what: "one board or tool serves raw meat or fish and then what is eaten as it is",
    topic: Topic::RawPoultry,
    looks_at: "tools of which there are only so many, and the counter, after raw meat, poultry and fish",
    verdict: "breach for poultry if there is no minute for a wash; caution otherwise: a wash between",
    remedy: "do the salad first, or another board; hot water and soap between",
    source: |_| practice("raw meat is kept from what is eaten as it is"),
    find,
};

fn by_hand(spell: &Spell<'_>) -> bool {
    matches!(
        spell.label.kind,
        Kind::Prep | Kind::Soak | Kind::Beat | Kind::Dress | Kind::Plate | Kind::Carve | Kind::Other(_)
    ) && spell.facts.warmth == Warmth::None
}

/// Whether hands, board and knife have raw meat, poultry or fish.
pub(crate) fn handles_raw(own: &Spell<'_>) -> bool {
    by_hand(own)
        && !own.facts.cooked
        && own.facts.to_be_cooked
        && !own.contents().bought_cooked
        && own.contents().any(Food::is_flesh)
        && own.step.kind != "stand"
}

fn tools(night: &Night<'_>, spell: &Spell<'_>) -> Vec<String> {
    let few =
        |pool: &String| *pool != slug(SHELF) && night.problem.pools.get(pool).is_some_and(|&there| there <= MOST_TOOLS);
    spell.mode.pools.iter().filter(|(pool, taken)| **taken > 0 && few(pool)).map(|(pool, _)| pool.clone()).collect()
}

fn find(night: &Night<'_>) -> Vec<Finding> {
    let ready =
        |own: &&Spell<'_>| by_hand(own) && !own.facts.to_be_cooked && !own.facts.cooked && own.step.kind != "stand";
    let mut found: Vec<Finding> = Vec::new();
    for from in night.spells.iter().filter(|own| handles_raw(own)) {
        for to in night.spells.iter().filter(ready).filter(|to| to.step.dish != from.step.dish && to.end > from.start) {
            let gap = to.start - from.end;
            let own = tools(night, from);
            let tool = tools(night, to).into_iter().find(|tool| own.contains(tool));
            let poultry = from.contents().has(Food::Poultry);
            let food = from.contents().first(Food::is_flesh).map_or(String::new(), |food| food.to_string());
            let when = if gap < 0 { "at the same time".to_owned() } else { format!("{gap} min later") };
            let (weight, text) = match tool {
                Some(tool) if gap < 24 * 60 => {
                    let name = night.labels.pools.get(&tool).map_or(tool.as_str(), String::as_str);
                    let weight = if poultry && gap < NEAR { Weight::Breach } else { Weight::Caution };
                    let room = if gap >= WASH {
                        "wash the board, knives and hands between"
                    } else {
                        "another board and knife, and wash hands between"
                    };
                    (
                        weight,
                        format!(
                            "{} is raw {food}, and {} is eaten as it is with the same {name} {when}: {room}",
                            from.dish.name, to.dish.name
                        ),
                    )
                }
                None if poultry && gap < NEAR => (
                    Weight::Caution,
                    format!(
                        "{} is raw {food}, and {} is eaten as it is at the counter {when}: another board and knife, wash hands and surfaces in between",
                        from.dish.name, to.dish.name
                    ),
                ),
                _ => continue,
            };
            let head = format!("{} is raw {food}, and {} ", from.dish.name, to.dish.name);
            match found.iter_mut().find(|own| own.text.starts_with(&head)) {
                Some(known) if known.weight >= weight => {}
                Some(known) => *known = Finding::new(weight, text, &[from, to]),
                None => found.push(Finding::new(weight, text, &[from, to])),
            }
        }
    }
    found
}
