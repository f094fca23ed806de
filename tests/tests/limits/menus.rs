//! Random menus as cooks write them: kitchens of all sizes, dishes of all kinds, people who come and go.

/// A small generator of its own: the same seed, the same menus, on every machine.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    pub(super) fn below(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as usize % sides.max(1)
    }

    pub(super) fn one_in(&mut self, sides: usize) -> bool {
        self.below(sides) == 0
    }

    pub(super) fn pick<'a>(&mut self, from: &[&'a str]) -> &'a str {
        from[self.below(from.len())]
    }
}

/// What a kitchen has, so that its menu asks for nothing else.
struct Kitchen {
    text: String,
    drawer: bool,
    grill: bool,
    names: Vec<&'static str>,
}

fn kitchen(dice: &mut Dice) -> Kitchen {
    let mut places = Vec::new();
    for oven in 0..1 + dice.below(2) {
        let inside = dice.pick(&["46 x 40 x 36 cm", "45 x 38 x 33 cm", "60 x 45 x 40 cm"]);
        let more = dice.pick(&[
            "",
            ", racks: 2",
            ", settle: \"10 min\"",
            ", rise: \"70 C in 10 min\"",
            ", cool_off: \"5 min\"",
        ]);
        let open = if dice.one_in(6) { ", at_opening: \"150 C\"" } else { "" };
        places.push(format!(r#"Oven(name: "Oven {oven}", inside: "{inside}"{more}{open})"#));
    }
    let (drawer, grill) = (dice.one_in(3), dice.one_in(4));
    if drawer {
        places.push(r#"Drawer(name: "Drawer", inside: "46 x 40 x 18 cm")"#.to_owned());
    }
    if grill {
        places.push(r#"Grill(name: "Grill", inside: "40 x 36 x 20 cm")"#.to_owned());
    }
    if dice.one_in(3) {
        places.push(r#"Top(name: "Plate", size: "90 x 60 cm", dial: "1 to 6")"#.to_owned());
    } else {
        let dial = dice.pick(&["1 to 9", "1 to 6", "1 to 14"]);
        places.push(format!(r#"Burners(name: "Burners", count: {}, dial: "{dial}")"#, 2 + dice.below(4)));
    }
    let all = ["Odile", "Ben", "Ivy"];
    let names: Vec<&str> = all[..1 + dice.below(3)].to_vec();
    let hours = [
        r#""12:00 to 20:00""#,
        r#""9:00 to 11:00", "14:30 to 20:30""#,
        r#""day before 16:00 to 18:00", "13:00 to 20:00""#,
        r#""10:00 to 21:00""#,
    ];
    let cook = |name: &&str, dice: &mut Dice| {
        let only = if *name == "Ivy" { ", only: [Prep, Dress, Plate]" } else { "" };
        format!(r#"Cook(name: "{name}", shifts: [{}]{only})"#, dice.pick(&hours))
    };
    let cooks: Vec<String> = names.iter().map(|name| cook(name, dice)).collect();
    let text = format!(
        r#"Kitchen(name: "Hall", places: [{}], cooks: [{}], pools: {{"mixer": 1}}, fridge_shelves: 3)"#,
        places.join(", "),
        cooks.join(", ")
    );
    Kitchen { text, drawer, grill, names }
}

fn dish(number: usize, kitchen: &Kitchen, dice: &mut Dice) -> String {
    let at = dice.pick(&["150 C", "170 C", "180 C", "200 C", "220 C", "160 to 180 C"]);
    let pan = dice.pick(&["30 x 25 x 10 cm", "35 x 28 x 8 cm", "24 x 10 cm", "20 x 20 x 12 cm"]);
    let minutes = 15 + 5 * dice.below(14);
    let course = dice.pick(&["main", "main", "first"]);
    let who = if dice.one_in(4) { format!(r#", cook: "{}""#, kitchen.names[0]) } else { String::new() };
    let steps = match dice.below(12) {
        0 => format!(
            r#"Joint(meat: pork, cut: loin, weight: "{} kg", thickness: "9 cm", to: "66 C", accepts: "140 to 180 C", best: "150 C",
                pan: "35 x 25 x 14 cm"{}), Carve("Slice", "6 min")"#,
            1 + dice.below(3),
            if dice.one_in(2) { r#", last: Hot("220 C", "12 min")"# } else { "" }
        ),
        1 => format!(
            r#"Prep("Slice", "12 min"), Bake(at: "150 C", takes: "{minutes} min", pan: "{pan}"),
                Finish(do: "Brown the top", at: "220 C", takes: "15 min", pan: "{pan}", stay: true)"#
        ),
        2 => format!(r#"Prep("Chop", "15 min"), Simmer("Soup", "{minutes} to {} min")"#, minutes + 30),
        3 => r#"Fry(do: "Fritters", takes: "6 min", batches: 3)"#.to_owned(),
        4 => r#"Beat(do: "Cream", takes: "8 min", uses: ["mixer"]), Chill("Set", "2 h or more"), Plate("Turn out", "5 min")"#
            .to_owned(),
        5 => r#"Dress("Leaves", "8 min")"#.to_owned(),
        6 => format!(
            r#"Prep("Trim", "10 min"), Roast(at: "{at}", takes: "{minutes} min", pan: "{pan}",
                touches: [Touch("Turn", "10 min", "2 min")]), Rest("Let stand", "5 to 25 min"), Carve("Cut", "5 min")"#
        ),
        7 => format!(
            r#"Bake(do: "Pudding", at: "{at}", takes: "{minutes} min", pan: "{pan}", shut: "10 min", wet: {})"#,
            dice.one_in(2)
        ),
        8 => format!(r#"Boil(do: "Roots", at: "{}", takes: "20 min"), Dress("Butter", "3 min")"#, dice.pick(&["high", "medium", "4 to 6"])),
        9 if kitchen.drawer => format!(
            r#"Bake(at: "{at}", takes: "{minutes} min", pan: "30 x 25 x 8 cm"), Hold(do: "Keep hot", takes: "5 to 30 min", place: "Drawer", pan: "30 x 25 x 8 cm")"#
        ),
        10 if kitchen.grill => r#"Prep("Oil", "5 min"), Toast(do: "Toast", takes: "5 min", pan: "30 x 25 x 5 cm")"#.to_owned(),
        _ => format!(
            r#"Sear("Brown", "8 min"), Braise(at: "{at}", takes: "{minutes} to {} min", pan: "{pan}", pans: {})"#,
            minutes + 20,
            1 + dice.below(2)
        ),
    };
    format!(r#"Dish(name: "Dish {number}", course: "{course}"{who}, steps: [{steps}])"#)
}

/// A menu with its kitchen.
pub(super) fn menu(seed: u64) -> String {
    let mut dice = Dice::new(seed);
    for _ in 0..8 {
        dice.below(2);
    }
    let kitchen = kitchen(&mut dice);
    let count = 2 + dice.below(5);
    let mut dishes: Vec<String> = (1..=count).map(|number| dish(number, &kitchen, &mut dice)).collect();
    // No course is empty.
    dishes.push(r#"Dish(name: "Bread", course: "first", steps: [Plate("Cut bread", "4 min")])"#.to_owned());
    dishes.push(r#"Dish(name: "Pickles", course: "main", steps: [Plate("Fill bowls", "3 min")])"#.to_owned());
    format!(
        r#"Menu(name: "Evening {seed}", kitchen: {}, guests: {}, date: "2026-11-14", zone: "Europe/London",
    courses: [Course(name: "first", serve: "18:30", slip: "3 h", together: "15 min"),
        Course(name: "main", serve: "19:00", slip: "3 h", together: "15 min")],
    dishes: [{}])"#,
        kitchen.text,
        4 + 2 * dice.below(6),
        dishes.join(",\n        ")
    )
}
