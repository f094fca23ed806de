//! A step and its ways as the language has them.

use super::feast::{amounts, names};
use super::{Record, Value, name_of, said};
use crate::cook::safety::Handling;
use crate::menu::{Accepts, Cools, Hot, Joint, Kind, Margin, PanChoice, Piece, Start, Step, Touch, Way, With};

pub(super) fn step(step: &Step) -> Record {
    let Step {
        kind,
        id,
        title,
        after,
        gap,
        stay,
        earliest,
        latest,
        keeps,
        waits,
        likes,
        cooks,
        with,
        look,
        note,
        joint,
        piece: _,
        roasting: _,
        accepts,
        cools,
        pans,
        batches,
        beside: _,
        way: own,
        ways,
        origin: _,
    } = step;
    let record = match (joint, kind) {
        (Some(_), _) => Record::new("Joint"),
        (None, Kind::Other(word)) => Record::new("Step").with("kind", word.as_str()),
        (None, named) => Record::new(&name_of(named)),
    };
    let record = record.and("id", id.as_deref()).and("do", title.as_deref());
    let record = match joint {
        Some(joint) => roast(record, joint),
        None => record,
    };
    let record = way(record, own)
        .and("after", after.as_deref().map(names))
        .and("gap", gap.map(said::interval))
        .and("stay", *stay)
        .and("from", earliest.map(said::clock))
        .and("by", latest.map(said::clock))
        .and("keeps", keeps.as_ref().map(said::keeps))
        .and("waits", waits.as_ref().map(said::word))
        .and("likes", likes.map(said::minutes))
        .and_all("cook", names(cooks))
        .and_all("with", with.iter().map(beside).collect())
        .and("look", look.as_deref())
        .and("note", note.as_deref())
        .and("pans", *pans)
        .and("batches", *batches);
    let record = match accepts {
        Some(accepts) => accepting(record, accepts),
        None => record,
    };
    let record = match cools {
        Some(cools) => cooling(record, cools),
        None => record,
    };
    record.and_all("ways", ways.iter().map(|own| way(Record::new("Way"), own)).collect())
}

/// The fields of a way, of which a step has those of its own.
fn way(record: Record, way: &Way) -> Record {
    let Way {
        places,
        takes,
        temperature,
        asked,
        level,
        heats,
        pan,
        weight,
        hands,
        load,
        unload,
        shut,
        wet,
        dry,
        cost,
        touches,
        early,
        late,
        between,
        rack,
        uses,
        stretch,
        others: _,
        one_of: _,
        notes: _,
        hands_on: _,
        cautions: _,
        origin: _,
    } = way;
    let at = match (asked, temperature, level) {
        (Some(asked), _, _) => Some(said::degrees(*asked)),
        (None, Some(range), _) => Some(said::range(*range)),
        (None, None, level) => level.map(said::level),
    };
    let pan = pan.as_ref().map(|pan| match pan {
        PanChoice::Named(own) => own.name.clone(),
        PanChoice::Size(size) => said::pan(*size),
    });
    record
        .and("takes", takes.map(said::interval))
        .and("at", at)
        .and_all("place", names(places))
        .and_all("heat", heats.iter().map(said::word).collect())
        .and("pan", pan)
        .and("weight", weight.map(said::weight))
        .and("hands", *hands)
        .and("load", load.map(said::minutes))
        .and("unload", unload.map(said::minutes))
        .and("shut", shut.map(said::minutes))
        .and("wet", *wet)
        .and("dry", *dry)
        .and("cost", *cost)
        .and_all("touches", touches.iter().map(touch).collect())
        .and("early", early.map(said::minutes))
        .and("late", late.map(said::minutes))
        .and("between", between.map(|[low, high]| format!("{low} to {high} min")))
        .and("rack", rack.as_ref().map(said::word))
        .and("uses", amounts(uses))
        .and("stretch", stretch.as_ref().map(said::keeps))
}

fn touch(touch: &Touch) -> Record {
    let Touch { what, at, takes, every, cooks } = touch;
    Record::new("Touch")
        .with("do", what.as_str())
        .with("at", said::minutes(*at))
        .with("takes", said::minutes(*takes))
        .and("every", every.map(said::minutes))
        .and_all("cook", names(cooks))
}

fn beside(with: &With) -> Value {
    let With { cook, first } = with;
    match first {
        None => Value::from(cook.name.as_str()),
        Some(first) => {
            let record = Record::new("With").with("cook", cook.name.as_str());
            Value::from(record.with("first", said::minutes(*first)))
        }
    }
}

fn roast(record: Record, joint: &Joint) -> Record {
    let Joint { piece: own, to, until, accepts, best, hot, rest, cover, allow, margin, beside } = joint;
    let margin = match margin {
        Margin::Range => None,
        Margin::Minutes(minutes) => Some(said::minutes(*minutes)),
    };
    let record = piece(record, own)
        .with("to", said::degrees(*to))
        .and("until", until.map(said::degrees))
        .with("accepts", said::degree_range(*accepts))
        .and("best", best.map(said::degrees));
    let record = match hot {
        None => record,
        Some(Hot { first, at, minutes, after }) => {
            let hot = Record::new("Hot").with("at", said::degrees(*at)).with("takes", said::minutes(*minutes));
            record.with(if *first { "first" } else { "last" }, hot.and("after", after.map(said::interval)))
        }
    };
    record
        .and("rest", rest.map(said::interval))
        .with("cover", said::word(cover))
        .and("allow", allow.map(said::minutes))
        .and("margin", margin)
        .and("beside", (*beside > 0).then_some(i64::from(*beside)))
}

/// What a piece of meat is.
pub(super) fn piece(record: Record, piece: &Piece) -> Record {
    let Piece { meat, cut, weight, thickness, breadth, length, bone, tied, stuffed, handling, start } = piece;
    let start = match start {
        Start::Fridge => None,
        Start::Frozen => Some("frozen".to_owned()),
        Start::At(own) => Some(said::degrees(*own)),
    };
    record
        .with("meat", said::word(meat))
        .with("cut", said::word(cut))
        .and("weight", weight.map(said::weight))
        .and("thickness", thickness.map(said::length))
        .and("breadth", breadth.map(said::length))
        .and("length", length.map(said::length))
        .and_if("bone", *bone)
        .and_if("tied", *tied)
        .and_if("stuffed", *stuffed)
        .and("handling", (*handling != Handling::Whole).then(|| said::word(handling)))
        .and("start", start)
}

fn accepting(record: Record, accepts: &Accepts) -> Record {
    let Accepts { window, known, done, beside } = accepts;
    record
        .with("accepts", said::degree_range(*window))
        .and("known", known.as_ref().map(said::word))
        .and("done", done.map(said::degrees))
        .and("beside", (*beside > 0).then_some(i64::from(*beside)))
}

fn cooling(record: Record, cools: &Cools) -> Record {
    let Cools { depth, cooler, covered, texture } = cools;
    record
        .and("depth", depth.map(said::length))
        .with("cooler", said::cooler(*cooler))
        .and_if("covered", *covered)
        .with("texture", said::word(texture))
}
