//! The examples that are shipped with the library. They stand as files in the folder `examples` of this crate.

/// An example: the texts of a menu and of its kitchen, with the names of their files.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// Its short name.
    pub name: &'static str,
    /// The name of the menu's file.
    pub menu_name: &'static str,
    /// The menu in RON. Its first line says what it shows.
    pub menu: &'static str,
    /// The name of the kitchen's file.
    pub kitchen_name: &'static str,
    /// The kitchen in RON.
    pub kitchen: &'static str,
    /// The dishes that stand in files of their own: names of files and texts.
    pub dishes: &'static [(&'static str, &'static str)],
}

impl Example {
    /// What it shows: the first line of the menu.
    pub fn shows(&self) -> &'static str {
        self.menu.lines().next().unwrap_or_default().trim_start_matches('/').trim()
    }

    /// The text of a file that the menu names, as [`read::feast`](crate::read::feast) asks for it: its kitchen, or one of its
    /// dishes.
    ///
    /// # Errors
    /// If the example has no file of that name.
    pub fn kitchen_text(&self, name: &str) -> Result<String, String> {
        let own = (self.kitchen_name, self.kitchen);
        let found = [own].into_iter().chain(self.dishes.iter().copied()).find(|(known, _)| *known == name);
        found.map(|(_, text)| text.to_owned()).ok_or_else(|| format!("this example has no such file, but {:?}", own.0))
    }
}

macro_rules! example {
    ($name:literal, $menu:literal, $kitchen:literal $(, $dish:literal)*) => {
        Example {
            name: $name,
            menu_name: $menu,
            menu: include_str!(concat!("../../examples/", $menu)),
            kitchen_name: $kitchen,
            kitchen: include_str!(concat!("../../examples/", $kitchen)),
            dishes: &[$(($dish, include_str!(concat!("../../examples/", $dish)))),*],
        }
    };
}

/// Every example, the demo first.
pub const ALL: &[Example] = &[
    example!("lantern", "lantern.menu.ron", "hall.kitchen.ron"),
    example!("supper", "supper.menu.ron", "shed.kitchen.ron"),
    example!("one-oven", "one-oven.menu.ron", "shed.kitchen.ron"),
    example!("porch", "porch.menu.ron", "porch.kitchen.ron"),
    example!("larder", "larder.menu.ron", "shed.kitchen.ron"),
    example!("midwinter", "midwinter.menu.ron", "gas.kitchen.ron"),
    example!("banquet", "banquet.menu.ron", "pavilion.kitchen.ron"),
    example!(
        "thirty",
        "thirty.menu.ron",
        "hall.kitchen.ron",
        "leek-gratin.dish.ron",
        "herb-dumplings.dish.ron",
        "baked-pears.dish.ron"
    ),
    example!("class", "class.menu.ron", "class.kitchen.ron"),
];

/// The demo: a lantern-night supper for fourteen.
pub fn demo() -> Example {
    ALL[0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{compile::compile, read};

    #[test]
    fn every_example_is_read_and_compiled() {
        for example in ALL {
            let feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name));
            let feast = feast.unwrap_or_else(|faults| panic!("{}:\n{faults}", example.name));
            let compiled = compile(&feast).unwrap_or_else(|faults| panic!("{}:\n{faults}", example.name));
            assert_eq!(compiled.problem.faults(), [], "{}", example.name);
            assert!(example.shows().len() > 30, "{}", example.name);
        }
    }

    #[test]
    fn the_smallest_menu_has_under_25_lines() {
        assert!(ALL[1].menu.lines().count() < 25);
    }
}
