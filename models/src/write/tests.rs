//! What is written of a feast is read as that feast: of every example, and of random ones.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::{of_dish, of_feast, of_kitchen, of_menu};
use crate::cook::chill::{Cooler, Texture};
use crate::cook::safety::{Handling, Premises, Region};
use crate::cook::{Cover, Cut, Meat};
use crate::faults::Origin;
use crate::feast::{Clock, Feast, Units};
use crate::kitchen::{
    Appliance, ApplianceKind, BurnersSpec, CavitySort, CavitySpec, Cook, Kitchen, Pan, PanSize, Past, Stretch, TopPart,
    TopSpec,
};
use crate::menu::{
    Accepts, Amount, Buy, Contains, Cools, Course, Diet, Dish, Group, Hot, Interval, Joint, Keeps, Kind, Level, Link,
    Margin, Measure, Menu, Named, Own, PanChoice, Piece, Stand, Start, Step, Touch, Way, With,
};
use crate::problem::{Heat, Rack, Wait};
use crate::units::{Temperature, degrees};
use crate::{compile, examples, read};

/// All that a feast says, without the places where it was written.
fn said(feast: &Feast) -> String {
    let text = format!("{:?}", (&feast.menu, &feast.kitchen));
    let mut parts = text.split("Origin(");
    let mut bare = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let mut open = 1;
        let end = part.find(|letter| {
            open += i32::from(letter == '(') - i32::from(letter == ')');
            open == 0
        });
        bare += &part[end.unwrap_or(0)..];
    }
    bare
}

fn read_again(text: &str) -> Feast {
    read::feast(text, "written", |_| Err("it stands in the menu".to_owned()))
        .unwrap_or_else(|faults| panic!("{faults}\n{text}"))
}

fn comes_back(feast: &Feast) {
    let record = of_feast(feast);
    for text in [record.to_string(), format!("{record:#}"), record.json()] {
        assert_eq!(said(&read_again(&text)), said(feast), "{text}");
    }
    // Once written, always written so.
    assert_eq!(of_feast(&read_again(&record.json())), record);
}

#[test]
fn every_example_comes_back_and_means_the_same() {
    for example in examples::ALL {
        let feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name)).unwrap();
        comes_back(&feast);
        let text = format!("{:#}", of_feast(&feast));
        match (compile::compile(&feast), compile::compile(&read_again(&text))) {
            (Ok(own), Ok(again)) => assert_eq!((own.problem, own.labels), (again.problem, again.labels), "{text}"),
            (Err(own), Err(again)) => assert_eq!(own.iter().count(), again.iter().count()),
            (own, again) => panic!("{:?} {:?}", own.is_ok(), again.is_ok()),
        }
        assert!(text.lines().all(|line| line.chars().count() <= 200), "{text}");
    }
}

#[test]
fn a_kitchen_and_a_dish_may_stand_in_files_of_their_own() {
    let example = examples::ALL[1];
    let mut feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name)).unwrap();
    let kitchen = format!("{:#}", of_kitchen(&feast.kitchen));
    feast.menu.dishes[0].portions = Some(4);
    let dish = of_dish(&feast.menu.dishes[0]).to_string();
    let menu = of_menu(&feast.menu, "other.kitchen.ron").to_string();
    let menu = menu.replace(&dish, "(dish: \"celeriac.dish.ron\", scale: false)");
    let again = read::feast(&menu, "menu", |name| match name {
        "other.kitchen.ron" => Ok(kitchen.clone()),
        "celeriac.dish.ron" => Ok(dish.clone()),
        _ => Err("none".to_owned()),
    });
    assert_eq!(said(&again.unwrap()), said(&feast));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn every_feast_comes_back(tape in proptest::collection::vec(any::<u32>(), 900)) {
        comes_back(&Tape(tape.iter()).feast());
    }

    /// Whatever was written as a temperature is written as exactly that.
    #[test]
    fn temperatures_are_exact(hundredths in -3_999i64..60_000, scale in 0..2usize) {
        let text = format!("{} {}", hundredths as f64 / 100.0, ["C", "F"][scale]);
        let own = degrees(&text).unwrap();
        prop_assert_eq!(degrees(&super::said::degrees(own)), Ok(own), "{}", text);
    }
}

/// Chance, from which a feast is drawn.
struct Tape<'a>(std::slice::Iter<'a, u32>);

impl Tape<'_> {
    fn below(&mut self, most: i64) -> i64 {
        i64::from(self.0.next().copied().unwrap_or(0)) % most
    }

    fn one<T: Clone>(&mut self, of: &[T]) -> T {
        of[self.below(of.len() as i64) as usize].clone()
    }

    fn yes(&mut self) -> bool {
        self.below(3) == 0
    }

    fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        if self.yes() { Some(make(self)) } else { None }
    }

    fn some<T>(&mut self, mut make: impl FnMut(&mut Self) -> T) -> Vec<T> {
        (0..self.below(3)).map(|_| make(self)).collect()
    }

    fn text(&mut self) -> String {
        self.one(&["leek", "Old \"oven\"", "back\\slash", "a\nline, {b}: (c) [d] // e", "香の物", "it's 12 o'clock"])
            .to_owned()
    }

    fn named(&mut self) -> Named {
        Named::from(self.text().as_str())
    }

    fn interval(&mut self) -> Interval {
        let min = 1 + self.below(200);
        Interval { min, max: self.maybe(|tape| min + tape.below(90)) }
    }

    fn clock(&mut self) -> Clock {
        Clock { day: self.below(7) - 3, minute: self.below(1_440) }
    }

    fn stretch(&mut self) -> Stretch {
        let from = self.clock();
        let to = Clock { day: from.day + 1 + self.below(3), minute: self.below(1_440) };
        let same_day = Clock { day: from.day, minute: (from.minute + 30).min(1_439) };
        let to = if self.yes() && same_day > from { same_day } else { to };
        Stretch { from, to, origin: Origin::default() }
    }

    fn degrees(&mut self) -> Temperature {
        degrees(
            self.one(&[
                "180 C", "62.5 C", "351 F", "130.25 F", "gas 4", "gas 1/2", "-2.75 C", "20 F", "0 C", "57.77 C",
            ]),
        )
        .unwrap()
    }

    fn ends(&mut self) -> [Temperature; 2] {
        let [a, b] = [self.degrees(), self.degrees()];
        if a.celsius() <= b.celsius() { [a, b] } else { [b, a] }
    }

    fn size(&mut self) -> PanSize {
        let side = |tape: &mut Self| 1 + tape.below(700);
        match self.below(3) {
            0 => PanSize::Box([side(self), side(self), side(self)]),
            1 => PanSize::Round(side(self), Some(side(self))),
            _ => PanSize::Round(side(self), None),
        }
    }

    fn amounts(&mut self) -> BTreeMap<String, i64> {
        self.some(|tape| (tape.text(), 1 + tape.below(3_000))).into_iter().collect()
    }

    fn heat(&mut self) -> Heat {
        self.one(&[Heat::Fan, Heat::Static, Heat::Steam, Heat::Grill, Heat::Spit])
    }

    fn keeps(&mut self) -> Keeps {
        let rate = self.below(9);
        let wait = Wait { rate, soft: self.maybe(|tape| tape.below(60)), rate_after: rate + self.below(9) };
        self.one(&[Keeps::Free, Keeps::Cold, Keeps::Warm, Keeps::Hot, Keeps::Fragile, Keeps::Costs(wait)])
    }

    fn piece(&mut self) -> Piece {
        Piece {
            meat: self.one(&[Meat::Lamb, Meat::Pork, Meat::Poultry, Meat::Fish, Meat::Vegetable]),
            cut: self.one(&[Cut::Loin, Cut::Leg, Cut::Bird, Cut::Slab]),
            weight: self.maybe(|tape| 1 + tape.below(9_000)),
            thickness: self.maybe(|tape| 1 + tape.below(300)),
            breadth: self.maybe(|tape| 1 + tape.below(300)),
            length: self.maybe(|tape| 1 + tape.below(500)),
            bone: self.yes(),
            tied: self.yes(),
            stuffed: self.yes(),
            handling: self.one(&[Handling::Whole, Handling::Tenderised, Handling::Minced]),
            start: self.one(&[Start::Fridge, Start::Frozen, Start::At(Temperature::of_celsius(12))]),
        }
    }

    fn way(&mut self) -> Way {
        let mut way = Way {
            places: self.some(Self::named),
            takes: self.maybe(Self::interval),
            heats: self.some(Self::heat),
            pan: self
                .maybe(|tape| if tape.yes() { PanChoice::Named(tape.named()) } else { PanChoice::Size(tape.size()) }),
            weight: self.maybe(|tape| 1 + tape.below(20_000)),
            hands: self.maybe(|tape| tape.below(4)),
            load: self.maybe(|tape| tape.below(9)),
            unload: self.maybe(|tape| tape.below(9)),
            shut: self.maybe(|tape| tape.below(60)),
            wet: self.maybe(Self::yes),
            dry: self.maybe(Self::yes),
            cost: self.maybe(|tape| tape.below(99)),
            touches: self.some(Self::touch),
            rack: self.maybe(|tape| tape.one(&[Rack::Upper, Rack::Middle, Rack::Lower])),
            uses: self.amounts(),
            ..Way::default()
        };
        match self.below(4) {
            0 => {
                let asked = self.degrees();
                (way.asked, way.temperature) = (Some(asked), Some([asked.whole() - 5, asked.whole() + 5]));
            }
            1 => way.temperature = Some([40 + self.below(100), 141 + self.below(100)]),
            2 => {
                let low = self.below(10);
                way.level = Some(self.one(&[
                    Level::Low,
                    Level::Gentle,
                    Level::Medium,
                    Level::High,
                    Level::Marks([low, low + 3]),
                ]));
            }
            _ => {}
        }
        match self.below(3) {
            0 => way.between = Some([20, 20 + self.below(30)]),
            1 => (way.early, way.late) = (self.maybe(|tape| tape.below(20)), self.maybe(|tape| tape.below(20))),
            _ => {}
        }
        way
    }

    fn touch(&mut self) -> Touch {
        Touch {
            what: self.text(),
            at: self.below(90),
            takes: 1 + self.below(9),
            every: self.maybe(|tape| 1 + tape.below(40)),
            cooks: self.some(Self::named),
        }
    }

    fn joint(&mut self) -> Joint {
        let first = self.yes();
        let hot = |tape: &mut Self| Hot {
            first,
            at: tape.degrees(),
            minutes: 1 + tape.below(40),
            after: if first { None } else { tape.maybe(Self::interval) },
        };
        let allow = self.maybe(|tape| 1 + tape.below(300));
        Joint {
            piece: self.piece(),
            to: self.degrees(),
            until: self.maybe(Self::degrees),
            accepts: self.ends(),
            best: self.maybe(Self::degrees),
            hot: self.maybe(hot),
            rest: self.maybe(Self::interval),
            cover: self.one(&[Cover::Open, Cover::Tented, Cover::Wrapped]),
            margin: if allow.is_none() {
                self.one(&[Margin::Range, Margin::Minutes(0), Margin::Minutes(25)])
            } else {
                Margin::Range
            },
            allow,
            beside: self.below(10) as u32,
        }
    }

    fn step(&mut self) -> Step {
        let mut step = Step {
            id: self.maybe(Self::text),
            title: self.maybe(Self::text),
            after: self.maybe(|tape| tape.some(Self::named)),
            gap: self.maybe(Self::interval),
            earliest: self.maybe(Self::clock),
            latest: self.maybe(Self::clock),
            keeps: self.maybe(Self::keeps),
            waits: self.maybe(|tape| tape.one(&[Stand::Refrigerator, Stand::Counter, Stand::Warm, Stand::Hob])),
            likes: self.maybe(|tape| tape.below(60)),
            cooks: self.some(Self::named),
            look: self.maybe(Self::text),
            note: self.maybe(Self::text),
            ..Step::new(Kind::Roast, 1)
        };
        if self.yes() {
            let way = self.way();
            let pan = Some(PanChoice::Named(self.named()));
            step.joint = Some(Box::new(self.joint()));
            step.way = Way {
                pan,
                places: way.places,
                heats: way.heats,
                cost: way.cost,
                touches: way.touches,
                rack: way.rack,
                ..Way::default()
            };
            step.pans = self.maybe(|tape| 1 + tape.below(9));
            return step;
        }
        step.kind = if self.yes() { Kind::Other(self.text()) } else { self.one(Kind::ALL) };
        step.stay = self.maybe(Self::yes);
        step.with = self.some(|tape| With { cook: tape.named(), first: tape.maybe(|tape| 1 + tape.below(30)) });
        step.accepts = self.maybe(|tape| Accepts {
            window: tape.ends(),
            known: tape.maybe(Self::heat),
            done: tape.maybe(Self::degrees),
            beside: tape.below(10) as u32,
        });
        step.cools = self.maybe(|tape| Cools {
            depth: tape.maybe(|tape| 1 + tape.below(300)),
            cooler: tape.one(&[
                Cooler::Kitchen,
                Cooler::WalkIn,
                Cooler::Refrigerator,
                Cooler::Chiller,
                Cooler::StirredIceBath,
            ]),
            covered: tape.yes(),
            texture: tape.one(&[Texture::Thick, Texture::Thin]),
        });
        match self.below(3) {
            0 => step.pans = Some(1 + self.below(9)),
            1 => step.batches = Some(1 + self.below(9)),
            _ => {}
        }
        step.way = self.way();
        if step.likes.is_none() {
            step.way.stretch = self.maybe(Self::keeps);
        }
        step.ways = self.some(|tape| Way { stretch: tape.maybe(Self::keeps), ..tape.way() });
        step
    }

    fn dish(&mut self) -> Dish {
        let amount = |tape: &mut Self| Amount {
            hundredths: 1 + tape.below(90_000),
            measure: tape.one(&[
                Measure::Grams,
                Measure::Millilitres,
                Measure::Pieces("bunches".to_owned()),
                Measure::Pieces(String::new()),
            ]),
            each: tape.yes(),
        };
        Dish {
            course: self.maybe(Self::named),
            contains: self.some(|tape| tape.one(&[Contains::Meat, Contains::Egg, Contains::Rice])),
            allergens: self.some(Self::text),
            without: self.some(Self::text),
            diets: self.some(Self::named),
            buys: self.maybe(|tape| Buy { what: tape.text(), amount: amount(tape) }).into_iter().collect(),
            cooks: self.some(Self::named),
            portions: self.maybe(|tape| 1 + tape.below(99)),
            scale: self.yes(),
            once: self.yes(),
            steps: self.some(Self::step),
            ..Dish::new(&self.text(), Vec::new())
        }
    }

    fn appliance(&mut self) -> Appliance {
        let kind = match self.below(3) {
            0 => {
                let sort = self.one(&[CavitySort::Oven, CavitySort::Drawer, CavitySort::Grill, CavitySort::Spit]);
                let usual = CavitySpec::usual(sort, [1 + self.below(900), 1 + self.below(900), 1 + self.below(900)]);
                let other = |tape: &mut Self, usual| CavitySpec {
                    racks: 1 + tape.below(6),
                    clearance: tape.below(90),
                    rise: 1 + tape.below(300),
                    heats: vec![tape.heat()],
                    ..usual
                };
                ApplianceKind::Cavity(if self.yes() { usual } else { other(self, usual) })
            }
            1 => ApplianceKind::Burners(BurnersSpec {
                count: 1 + self.below(6),
                dial: self.one(&[[1, 9], [0, 12], [3, 3]]),
                pans: [90, 91 + self.below(300)],
            }),
            _ => {
                let part = |tape: &mut Self| TopPart {
                    name: tape.text(),
                    size: [1 + tape.below(600), 1 + tape.below(600)],
                    levels: [1, 1 + tape.below(8)],
                    origin: Origin::default(),
                };
                ApplianceKind::Top(TopSpec { dial: [1, 9], parts: vec![part(self), part(self)] })
            }
        };
        Appliance { name: self.text(), kind, draws: self.amounts(), origin: Origin::default() }
    }

    fn cook(&mut self) -> Cook {
        let kind = |tape: &mut Self| tape.one(Kind::ALL).word().to_owned();
        Cook {
            name: self.text(),
            shifts: self.some(Self::stretch),
            away: self.some(Self::stretch),
            only: self.some(kind),
            origin: Origin::default(),
        }
    }

    fn group(&mut self) -> Group {
        let own = |tape: &mut Self, called: bool| Own { called: called.then(|| tape.text()), is: tape.named() };
        let named = self.yes();
        Group {
            name: self.text(),
            shifts: if named { Vec::new() } else { self.some(Self::stretch) },
            hands: if named { 1 } else { 1 + self.below(4) },
            cooks: if named { vec![self.named()] } else { Vec::new() },
            places: self.maybe(|tape| own(tape, true)).into_iter().collect(),
            pans: self.some(|tape| own(tape, false)),
            origin: Origin::default(),
        }
    }

    fn feast(&mut self) -> Feast {
        let past = |tape: &mut Self| Past {
            piece: tape.piece(),
            at: tape.degrees(),
            heat: tape.heat(),
            took: 1 + tape.below(300),
            pulled: tape.degrees(),
            origin: Origin::default(),
        };
        let course = |tape: &mut Self| Course {
            weight: 1 + tape.below(9),
            slip: tape.below(200),
            together: tape.below(60),
            follows: tape.maybe(Self::interval),
            ..Course::new(&tape.text(), tape.clock())
        };
        let kitchen = Kitchen {
            name: self.text(),
            places: self.some(Self::appliance),
            pans: self.some(|tape| Pan {
                name: tape.text(),
                size: tape.size(),
                count: tape.maybe(|tape| 1 + tape.below(9)),
                origin: Origin::default(),
            }),
            pools: self.amounts(),
            region: self.one(&[Region::Us, Region::Uk, Region::Au, Region::Nz]),
            premises: Premises { licensed: self.yes(), room_c: 15 + self.below(20), fridge_c: self.below(9) },
            log: self.some(past),
            cooks: self.some(Self::cook),
            origin: Origin::default(),
        };
        let guests = 1 + self.below(200);
        let mut courses = self.some(course);
        courses.push(course(self));
        let menu = Menu {
            name: self.text(),
            guests,
            children: self.below(guests + 1),
            diets: self
                .maybe(|tape| Diet { name: tape.text(), guests: 1, origin: Origin::default() })
                .into_iter()
                .collect(),
            date: "2026-11-14".parse().unwrap(),
            zone: "Europe/London".to_owned(),
            units: self.one(&[Units::Metric, Units::Customary, Units::Gas]),
            opens: self.maybe(Self::clock),
            courses,
            dishes: self.some(Self::dish),
            ties: self.some(|tape| Link {
                from: tape.named(),
                to: tape.named(),
                gap: tape.interval(),
                keeps: tape.maybe(Self::keeps),
                origin: Origin::default(),
            }),
            cooks: self.some(Self::cook),
            groups: self.some(Self::group),
            origin: Origin::default(),
        };
        Feast { kitchen, menu, ..Feast::default() }
    }
}
