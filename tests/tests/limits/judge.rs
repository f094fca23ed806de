//! A second judge of what the cooks are told: it reads the answer's JSON and the problem's, as a stranger would, and shares no
//! code with the library. Whatever it says is a way in which the evening cannot happen.

use std::collections::BTreeMap;

use serde_json::Value;

/// Who is there when, by name.
pub(super) type Presence = BTreeMap<String, Vec<[i64; 2]>>;

/// The air of a kitchen, in tenths of a degree: what an oven that is off falls to.
const KITCHEN: i64 = 200;

fn int(value: &Value) -> i64 {
    value.as_i64().unwrap_or(0)
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("")
}

/// A step as it was planned.
struct Planned<'a> {
    id: &'a str,
    mode: &'a Value,
    own: &'a Value,
    start: i64,
    end: i64,
}

impl Planned<'_> {
    fn place(&self) -> &str {
        text(&self.mode["place"])
    }

    fn is_in(&self, minute: i64) -> bool {
        self.start <= minute && minute < self.end
    }
}

pub(super) struct Judge<'a> {
    problem: &'a Value,
    schedule: &'a Value,
    served: &'a Value,
    present: &'a Presence,
    steps: BTreeMap<&'a str, Planned<'a>>,
    said: Vec<String>,
}

/// Everything that cannot be.
pub(super) fn judge(problem: &Value, answer: &Value, present: &Presence) -> Vec<String> {
    let planned = |step: &'_ Value| -> Option<(&str, Planned<'_>)> {
        // The names live as long as the answer; ids of both are the same.
        let (id, own) = answer["plan"]["steps"].as_object()?.get_key_value(text(&step["id"]))?;
        let source = list(&problem["steps"]).iter().find(|other| other["id"] == step["id"])?;
        let mode = &source["modes"][int(&own["mode"]) as usize];
        Some((id, Planned { id, mode, own, start: int(&own["start"]), end: int(&own["end"]) }))
    };
    let mut judge = Judge {
        problem,
        schedule: &answer["schedule"],
        served: &answer["plan"]["served"],
        present,
        steps: list(&problem["steps"]).iter().filter_map(planned).collect(),
        said: Vec::new(),
    };
    if judge.steps.len() != list(&problem["steps"]).len() {
        judge.said.push("a step is not planned".to_owned());
    }
    judge.minutes();
    judge.courses();
    judge.people();
    judge.pools();
    for place in list(&problem["places"]) {
        match text(&place["kind"]) {
            "cavity" => judge.cavity(place),
            "hob" => judge.hob(place),
            _ => judge.top(place),
        }
    }
    judge.said
}

impl<'a> Judge<'a> {
    /// Lengths, clock times and links.
    fn minutes(&mut self) {
        let mut said = Vec::new();
        for step in list(&self.problem["steps"]) {
            let Some(own) = self.steps.get(text(&step["id"])) else { continue };
            let takes = own.end - own.start;
            let long = int(&own.mode["min"]) <= takes && takes <= int(&own.mode["max"]);
            let early = own.start >= step["earliest"].as_i64().unwrap_or(0).max(int(&self.problem["opening"]));
            let late = step["latest"].as_i64().is_none_or(|latest| own.end <= latest);
            if !(long && early && late) {
                said.push(format!("{}: {} to {} is not allowed", own.id, own.start, own.end));
            }
        }
        for link in list(&self.problem["links"]) {
            let ends = self.steps.get(text(&link["from"])).zip(self.steps.get(text(&link["to"])));
            let gap = ends.map_or(0, |(from, to)| to.start - from.end);
            if gap < int(&link["min"]) || link["max"].as_i64().is_some_and(|max| gap > max) {
                said.push(format!("{} and {} are {gap} minutes apart", link["from"], link["to"]));
            }
        }
        self.said.extend(said);
    }

    fn courses(&mut self) {
        let mut said = Vec::new();
        for course in list(&self.problem["courses"]) {
            let id = text(&course["id"]);
            let at = int(&self.served[id]);
            let told = list(&self.schedule["servings"]).iter().find(|serving| serving["course"] == course["id"]);
            if told.is_none_or(|told| int(&told["at"]) != at) {
                said.push(format!("{id}: the sheet serves it at another minute"));
            }
            if at < int(&course["serve"]) || at > int(&course["serve"]) + int(&course["max_slip"]) {
                said.push(format!("{id} is served at {at}"));
            }
            for sink in list(&course["sinks"]) {
                let end = self.steps.get(text(&sink["step"])).map_or(0, |own| own.end);
                if end > at || at - end > int(&course["together"]) {
                    said.push(format!("{id} is served at {at}, {} ends at {end}", sink["step"]));
                }
            }
        }
        self.said.extend(said);
    }

    fn is_there(&self, cook: &str, from: i64, until: i64) -> bool {
        self.present.get(cook).is_some_and(|own| own.iter().any(|&[start, end]| start <= from && until <= end))
    }

    fn is_passing(&self, job: &Value) -> bool {
        let step = self.steps.get(text(&job["step"]));
        let touch = step.map(|step| &step.mode["touches"][int(&job["index"]) as usize]);
        text(&job["do"]) == "touch" && touch.is_some_and(|touch| touch["passing"] == true)
    }

    /// Nobody is in two places, or away; every piece of work is somebody's; a dial is turned by somebody who is there.
    fn people(&mut self) {
        let jobs = list(&self.schedule["jobs"]);
        let mut said = Vec::new();
        let cooks: Vec<&str> = list(&self.schedule["cooks"]).iter().map(text).collect();
        let name = |cook: &Value| cooks.get(int(cook) as usize).copied().unwrap_or("nobody");
        let busy = |job: &Value| matches!(text(&job["do"]), "work" | "put-in" | "take-out" | "touch");
        for job in jobs {
            let (from, until) = (int(&job["at"]), int(&job["until"]));
            let turns = matches!(text(&job["do"]), "dial" | "shift");
            for cook in list(&job["cooks"]).iter().map(name) {
                if (busy(job) || turns) && !self.is_there(cook, from, until) {
                    said.push(format!("{cook} is not there from {from} to {until}: {job}"));
                }
            }
        }
        for (number, one) in jobs.iter().enumerate().filter(|(_, job)| busy(job)) {
            for other in jobs[number + 1..].iter().filter(|job| busy(job)) {
                let overlap = int(&one["at"]) < int(&other["until"]) && int(&other["at"]) < int(&one["until"]);
                let beside = |a: &Value, b: &Value| self.is_passing(a) && text(&b["do"]) == "work";
                if overlap && !beside(one, other) && !beside(other, one) {
                    for cook in list(&one["cooks"]).iter().filter(|cook| list(&other["cooks"]).contains(cook)) {
                        said.push(format!("{} is in two places: {one} and {other}", name(cook)));
                    }
                }
            }
        }
        let mut wanted = Vec::new();
        for step in self.steps.values() {
            let (hands, load, unload) = (int(&step.mode["hands"]), int(&step.mode["load"]), int(&step.mode["unload"]));
            wanted.push((step.id, "work", step.start, if hands > 0 { step.end } else { step.start }, hands));
            wanted.push((step.id, "put-in", step.start, step.start + load, 1));
            wanted.push((step.id, "take-out", step.end - unload, step.end, 1));
        }
        for (id, what, from, until, hands) in wanted {
            for minute in from..until {
                let at_it = jobs.iter().filter(|job| text(&job["step"]) == id && text(&job["do"]) == what);
                let now = at_it.filter(|job| int(&job["at"]) <= minute && minute < int(&job["until"]));
                let there: i64 = now.map(|job| list(&job["cooks"]).len() as i64).sum();
                if there != hands {
                    said.push(format!("{id}: {there} of {hands} are at it ({what}) at {minute}"));
                    break;
                }
            }
        }
        self.said.extend(said);
    }

    fn pools(&mut self) {
        let mut said = Vec::new();
        for (pool, most) in self.problem["pools"].as_object().into_iter().flatten() {
            let mut uses: Vec<(i64, i64, i64)> = Vec::new();
            for step in self.steps.values() {
                uses.push((step.start, step.end, int(&step.mode["pools"][pool])));
            }
            for link in list(&self.problem["links"]) {
                if let Some((a, b)) = self.steps.get(text(&link["from"])).zip(self.steps.get(text(&link["to"]))) {
                    uses.push((a.end, b.start, int(&link["pools"][pool])));
                }
            }
            for course in list(&self.problem["courses"]) {
                for sink in list(&course["sinks"]) {
                    let end = self.steps.get(text(&sink["step"])).map_or(0, |own| own.end);
                    uses.push((end, int(&self.served[text(&course["id"])]), int(&sink["pools"][pool])));
                }
            }
            for &(minute, ..) in &uses {
                let now = uses.iter().filter(|(from, until, _)| *from <= minute && minute < *until);
                let sum: i64 = now.map(|own| own.2).sum();
                if sum > int(most) {
                    said.push(format!("{sum} of {most} {pool} at {minute}"));
                    break;
                }
            }
        }
        self.said.extend(said);
    }

    fn cavity(&mut self, place: &Value) {
        let id = text(&place["id"]);
        let Some(day) = list(&self.schedule["cavities"]).iter().find(|day| text(&day["place"]) == id) else {
            self.said.push(format!("{id} has no day"));
            return;
        };
        let mut said = Vec::new();
        self.dial(place, day, &mut said);
        self.air(place, day, &mut said);
        self.racks(place, day, &mut said);
        self.doors(id, day, &mut said);
        self.said.extend(said);
    }

    /// A dial has only the temperatures that it has, and is turned by somebody, once at a time.
    fn dial(&self, place: &Value, day: &Value, said: &mut Vec<String>) {
        let turns: Vec<i64> = list(&day["settings"]).iter().map(|setting| int(&setting["at"])).collect();
        if !turns.is_sorted_by(|one, next| one < next) {
            said.push(format!("the dial of {} is turned twice at once: {turns:?}", place["id"]));
        }
        for setting in list(&day["settings"]) {
            let at = int(&setting["at"]);
            let range = int(&place["t_min"])..=int(&place["t_max"]);
            if setting["degrees"].as_i64().is_some_and(|degrees| !range.contains(&degrees)) {
                said.push(format!("{} is set to {}", place["id"], setting["degrees"]));
            }
            if !self.present.keys().any(|cook| self.is_there(cook, at, at)) {
                said.push(format!("nobody is there at {at} to turn the dial of {}", place["id"]));
            }
        }
    }

    /// The temperature is true at every minute of every stay.
    fn air(&self, place: &Value, day: &Value, said: &mut Vec<String>) {
        let (rise, fall) = (int(&place["rise"]), int(&place["fall"]));
        let here: Vec<&Planned<'_>> = self.steps.values().filter(|step| step.place() == text(&place["id"])).collect();
        let last = here.iter().map(|step| step.end).max().unwrap_or(0);
        let mut air = 10 * int(&place["t_open"]);
        let mut wrong: Vec<&str> = Vec::new();
        for minute in int(&self.problem["opening"])..=last {
            let before = list(&day["settings"]).iter().filter(|setting| int(&setting["at"]) <= minute);
            let dial = before.max_by_key(|setting| int(&setting["at"]));
            for step in here.iter().filter(|step| step.start <= minute && minute <= step.end) {
                let [lo, hi] = [0, 1].map(|side| int(&step.mode["t"][side]));
                let stays =
                    list(&self.problem["links"]).iter().find(|l| l["stay"] == true && text(&l["to"]) == step.id);
                let earlier = stays.and_then(|link| self.steps.get(text(&link["from"])));
                // Where the pan stays in, the change takes its minutes at the oven's rates.
                let change = earlier.map_or(0, |earlier| {
                    let [low, high] = [0, 1].map(|side| int(&earlier.mode["t"][side]));
                    let minutes = |degrees: i64, rate: i64| (10 * degrees.max(0) + rate - 1) / rate;
                    minutes(lo - low, rise).max(minutes(high - hi, fall))
                });
                let cooked = minute >= step.start + change;
                if cooked && !(10 * lo..=10 * hi).contains(&air) && !wrong.contains(&step.id) {
                    wrong.push(step.id);
                    said.push(format!("{}: the air has {air} tenths at {minute}, not {lo} to {hi} C", step.id));
                }
                let heat = dial.map_or(&Value::Null, |dial| &dial["heat"]);
                if minute < step.end && *heat != step.mode["heat"] && !wrong.contains(&step.id) {
                    wrong.push(step.id);
                    said.push(format!("{}: the heat is {heat} at {minute}", step.id));
                }
            }
            let target =
                dial.and_then(|dial| dial["degrees"].as_i64()).map_or(air.min(KITCHEN), |degrees| 10 * degrees);
            air += (target - air).clamp(-fall, rise);
        }
    }

    /// Every pan stands somewhere at every minute, inside, on its size of shelf, and beside the others.
    fn racks(&self, place: &Value, day: &Value, said: &mut Vec<String>) {
        let spots = list(&day["spots"]);
        let now = |minute: i64| spots.iter().filter(move |s| int(&s["from"]) <= minute && minute < int(&s["until"]));
        let tall = |spot: &Value| self.steps.get(text(&spot["step"])).map_or(0, |step| int(&step.mode["pan"][2]));
        for step in self.steps.values().filter(|step| step.place() == text(&place["id"])) {
            if (step.start..step.end).any(|minute| now(minute).filter(|s| text(&s["step"]) == step.id).count() != 1) {
                said.push(format!("{} stands nowhere or twice", step.id));
            }
        }
        for spot in spots {
            let Some(step) = self.steps.get(text(&spot["step"])) else { continue };
            let mut pan = [int(&step.mode["pan"][0]), int(&step.mode["pan"][1])];
            if spot["turned"] == true {
                pan.reverse();
            }
            let right = int(&spot["x"]) >= 0 && int(&spot["x"]) + pan[0] <= int(&place["width"]);
            let front = int(&spot["y"]) >= 0 && int(&spot["y"]) + pan[1] <= int(&place["depth"]);
            if pan != [int(&spot["width"]), int(&spot["depth"])] || !right || !front {
                said.push(format!("the pan of {} stands outside: {spot}", step.id));
            }
            // The company at the minute at which it comes.
            let company: Vec<&Value> = now(int(&spot["from"])).collect();
            for other in company.iter().filter(|other| other["shelf"] == spot["shelf"] && other["step"] != spot["step"])
            {
                let apart = |at: &str, size: &str| {
                    int(&spot[at]) + int(&spot[size]) <= int(&other[at])
                        || int(&other[at]) + int(&other[size]) <= int(&spot[at])
                };
                if !apart("x", "width") && !apart("y", "depth") {
                    said.push(format!("{} and {} stand in one another", spot["step"], other["step"]));
                }
            }
            let mut shelves: BTreeMap<i64, i64> = BTreeMap::new();
            for pan in &company {
                let tallest = shelves.entry(int(&pan["floor"])).or_default();
                *tallest = tall(pan).max(*tallest);
            }
            let above: Vec<(i64, i64)> = shelves.into_iter().collect();
            let room = above.iter().enumerate().all(|(index, (floor, tallest))| {
                let next = above.get(index + 1).map_or(int(&place["height"]), |next| next.0);
                *floor >= 0 && floor + tallest + int(&place["clearance"]) <= next
            });
            if !room || above.len() as i64 > int(&place["racks"]) {
                said.push(format!("no room at {} in {}: {above:?}", spot["from"], place["id"]));
            }
            let weight: i64 = (company.iter().filter_map(|s| self.steps.get(text(&s["step"]))))
                .map(|step| int(&step.mode["weight"]))
                .sum();
            if weight > int(&place["max_weight"]) {
                said.push(format!("{} bears {weight} g at {}", place["id"], spot["from"]));
            }
        }
    }

    /// Doors open for what goes in and out, and for nothing else while they are to stay shut.
    fn doors(&self, place: &str, day: &Value, said: &mut Vec<String>) {
        let links = list(&self.problem["links"]);
        for step in self.steps.values().filter(|step| step.place() == place) {
            let opens = |minute: i64| list(&day["doors"]).iter().any(|door| int(&door["at"]) == minute);
            let from = links.iter().any(|link| link["stay"] == true && text(&link["to"]) == step.id);
            let to = links.iter().any(|link| link["stay"] == true && text(&link["from"]) == step.id);
            if !from && !opens(step.start) || !to && !opens(step.end) {
                said.push(format!("no door opens for {}", step.id));
            }
            let shut = step.start + 1..step.start + int(&step.mode["shut"]);
            for door in list(&day["doors"]).iter().filter(|door| shut.contains(&int(&door["at"]))) {
                let parts = ["puts_in", "takes_out", "touches", "shifts"];
                if parts.iter().any(|part| list(&door[*part]).iter().any(|other| text(other) != step.id)) {
                    said.push(format!("the door of {} is to stay shut: {door}", step.id));
                }
            }
        }
    }

    fn level(&self, place: &Value, spot: &Value, said: &mut Vec<String>) {
        let Some(step) = self.steps.get(text(&spot["step"])) else { return };
        let [from, to] = [0, 1].map(|side| int(&spot["level"][side]));
        let scale = int(&place["scale"][0])..=int(&place["scale"][1]);
        let wanted = int(&step.mode["level"][0])..=int(&step.mode["level"][1]);
        let legal = |level: i64| scale.contains(&level) && wanted.contains(&level);
        if from > to || !legal(from) || !legal(to) {
            said.push(format!("{}: heat {from} to {to}", step.id));
        }
    }

    fn hob(&mut self, place: &Value) {
        let day = list(&self.schedule["hobs"]).iter().find(|day| day["place"] == place["id"]);
        let spots = day.map_or(&[][..], |day| list(&day["spots"]));
        let mut said = Vec::new();
        for (number, spot) in spots.iter().enumerate() {
            if !(1..=int(&place["count"])).contains(&int(&spot["burner"])) {
                said.push(format!("no burner {}", spot["burner"]));
            }
            self.level(place, spot, &mut said);
            for other in spots[number + 1..].iter().filter(|other| other["burner"] == spot["burner"]) {
                if int(&spot["from"]) < int(&other["until"]) && int(&other["from"]) < int(&spot["until"]) {
                    said.push(format!("{} and {} are on one burner", spot["step"], other["step"]));
                }
            }
        }
        self.covered(place, spots, &mut said);
        self.said.extend(said);
    }

    fn top(&mut self, place: &Value) {
        let day = list(&self.schedule["tops"]).iter().find(|day| day["place"] == place["id"]);
        let spots = day.map_or(&[][..], |day| list(&day["spots"]));
        let mut said = Vec::new();
        for (number, spot) in spots.iter().enumerate() {
            let size = int(&spot["diameter"]);
            let inside = |at: &str, side: &str| int(&spot[at]) >= 0 && int(&spot[at]) + size <= int(&place[side]);
            if !inside("x", "width") || !inside("y", "depth") {
                said.push(format!("{} stands outside", spot["step"]));
            }
            self.level(place, spot, &mut said);
            for other in &spots[number + 1..] {
                let both = int(&spot["from"]) < int(&other["until"]) && int(&other["from"]) < int(&spot["until"]);
                let apart = |at: &str| {
                    int(&spot[at]) + size <= int(&other[at])
                        || int(&other[at]) + int(&other["diameter"]) <= int(&spot[at])
                };
                if both && !apart("x") && !apart("y") {
                    said.push(format!("{} and {} stand in one another", spot["step"], other["step"]));
                }
            }
        }
        self.covered(place, spots, &mut said);
        self.said.extend(said);
    }

    /// Each pan has a place on the hob for all of its minutes.
    fn covered(&self, place: &Value, spots: &[Value], said: &mut Vec<String>) {
        for step in self.steps.values().filter(|step| step.place() == text(&place["id"])) {
            let own = spots.iter().filter(|spot| text(&spot["step"]) == step.id);
            let minutes: i64 = own.map(|spot| int(&spot["until"]) - int(&spot["from"])).sum();
            if minutes != step.end - step.start || !step.is_in(step.start) || step.own.is_null() {
                said.push(format!("{} has no place for all of its minutes", step.id));
            }
        }
    }
}
