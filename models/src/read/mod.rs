//! Reading a menu and its kitchen from text.
#![doc = include_str!("language.md")]

mod fields;
mod joint;
mod json;
mod kitchen;
mod menu;
mod node;
mod reading;
mod ron;
mod sorts;
mod step;

use node::{Node, Value};
use reading::Reading;

use crate::faults::{Code, Fault, Faults, Sources};
use crate::feast::Feast;
use crate::kitchen::Kitchen;
use crate::menu::{Dish, Named};

/// Texts longer than this are refused, bytes. A menu of 1,000 dishes is about a tenth of it.
pub const LONGEST: usize = 2 << 20;

/// What could be read of a menu and its kitchen, and what is wrong with the rest.
///
/// What it means is not looked at yet: [`compile::draft`](crate::compile::draft) does that and gives both sorts of faults at
/// once. Until then the feast may be changed: other units, another region.
#[derive(Clone, Debug)]
pub struct Draft {
    /// As far as it could be read.
    pub feast: Feast,
    /// What could not.
    pub(crate) faults: Vec<Fault>,
    /// Some part was left out of the feast, and others may name it.
    pub(crate) lost: bool,
    /// There is a kitchen to judge the menu by.
    pub(crate) has_kitchen: bool,
}

impl Draft {
    /// The feast, if everything could be read.
    ///
    /// # Errors
    /// Everything that could not.
    pub fn finish(self) -> Result<Feast, Faults> {
        if self.faults.is_empty() { Ok(self.feast) } else { Err(Faults::sorted(self.faults)) }
    }
}

/// Reads a feast: the text of a menu in RON or JSON, and the files it names: its kitchen, and dishes that stand in files of
/// their own.
///
/// `menu_name` is what faults call the menu's text. `file` is asked for the text of each file by the name the menu gives it, or
/// says why there is none: first for dishes, in the order of the menu, then for the kitchen, unless that is written inside the
/// menu.
///
/// # Errors
/// Everything that cannot be read, at once. Only what is no RON or JSON at all hides other faults behind it. What the feast
/// means is looked at when it is compiled; [`compile::feast`](crate::compile::feast) does both.
///
/// # Examples
/// ```
/// use rangewright_models::{examples, read};
///
/// let demo = examples::demo();
/// let feast = read::feast(demo.menu, "menu.ron", |_| Ok(demo.kitchen.to_owned()))?;
/// assert_eq!(feast.menu.guests, 14);
///
/// let faults = read::feast("Menu(name: \"Supper\", gests: 4)", "menu.ron", |_| Err("no such file".to_owned())).unwrap_err();
/// assert!(faults.to_string().contains("did you mean \"guests\"?"));
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn feast(menu: &str, menu_name: &str, file: impl FnMut(&str) -> Result<String, String>) -> Result<Feast, Faults> {
    draft(menu, menu_name, file).finish()
}

/// Reads as much of a feast as can be read; the arguments are those of [`feast`].
pub fn draft(menu: &str, menu_name: &str, mut file: impl FnMut(&str) -> Result<String, String>) -> Draft {
    let mut feast = Feast::default();
    let mut faults = Vec::new();
    let mut r = Reading::new(menu_name, menu, &mut feast.sources, &mut faults);
    let mut wanted = None;
    let mut named = None;
    let mut read = menu::Read::default();
    let tree_of_menu = tree(&mut r, menu);
    if let Some(tree) = &tree_of_menu {
        read = menu::menu(&mut r, tree);
        match read.kitchen.map(|node| (&node.value, node)) {
            Some((Value::Text(name), node)) => named = Some(Named { name: name.clone(), origin: r.origin(&node.span) }),
            Some((_, node)) => wanted = Some(kitchen::kitchen(&mut r, node)),
            None => {}
        }
    }
    let (mut lost, mut scales) = (r.lost, r.scales);
    feast.menu = read.menu;
    for entry in read.dishes {
        let dish = entry.dish(read.usual, |named| {
            let text = fetched(named, "Dish", &mut file, &feast.sources, &mut faults)?;
            let mut r = Reading::new(&named.name, &text, &mut feast.sources, &mut faults);
            let dish = tree(&mut r, &text).and_then(|tree| menu::booked(&mut r, &tree));
            lost |= r.lost;
            scales.append(&mut r.scales);
            dish
        });
        lost |= dish.is_none();
        feast.menu.dishes.extend(dish);
    }
    feast.menu.units = read.units.unwrap_or_else(|| menu::as_written(&scales));
    if let Some(named) = named
        && let Some(text) = fetched(&named, "Kitchen", &mut file, &feast.sources, &mut faults)
    {
        let mut r = Reading::new(&named.name, &text, &mut feast.sources, &mut faults);
        wanted = tree(&mut r, &text).map(|tree| kitchen::kitchen(&mut r, &tree));
        lost |= r.lost;
    }
    let has_kitchen = wanted.is_some();
    feast.kitchen = wanted.unwrap_or_default();
    Draft { feast, faults, lost, has_kitchen }
}

/// The text of a file that a menu names, if it can be had and begins as files of its sort do: of any other file, which a menu
/// may name as well, nothing is shown.
fn fetched(
    named: &Named,
    sort: &str,
    file: &mut impl FnMut(&str) -> Result<String, String>,
    sources: &Sources,
    faults: &mut Vec<Fault>,
) -> Option<String> {
    let name = &named.name;
    let (code, small) = if sort == "Dish" { (Code::NoDish, "dish") } else { (Code::NoKitchen, "kitchen") };
    let (cause, remedy) = match file(name) {
        Ok(text) if begins_as(&text, sort) => return Some(text),
        Ok(_) => (
            format!("{name:?} is read, but it is no {small}"),
            format!("name the file of a {small}, which begins with {sort}(, or write the {small} inside the menu"),
        ),
        Err(why) => (
            format!("the {small} {name:?} cannot be had: {why}"),
            match sort {
                "Dish" => "correct the name, or write the dish inside the menu: Dish(\"...\", [...])".to_owned(),
                _ => "correct the name, or write the kitchen inside the menu: kitchen: Kitchen(...)".to_owned(),
            },
        ),
    };
    faults.push(sources.fault(code, named.origin, cause, remedy));
    None
}

/// Whether a text begins as kitchens or dishes do, behind comments: an empty one, or one that is too long, is told as such
/// elsewhere.
fn begins_as(text: &str, sort: &str) -> bool {
    let mut body = text.trim_start_matches('\u{feff}').trim_start();
    loop {
        let behind = match (body.strip_prefix("//"), body.strip_prefix("/*")) {
            (Some(line), _) => line.split_once('\n').map_or("", |(_, behind)| behind),
            (_, Some(block)) => block.split_once("*/").map_or("", |(_, behind)| behind),
            (None, None) => break,
        };
        body = behind.trim_start();
    }
    body.is_empty() || [sort, "(", "{", "#!["].iter().any(|own| body.starts_with(own))
}

/// Reads a dish that stands in a file of its own. `name` is what faults call the text.
///
/// # Errors
/// Everything that cannot be read, and that it does not say for how many it is written. What its steps mean is looked at when it
/// is cooked in a kitchen.
///
/// ```
/// use rangewright_models::read;
///
/// let text = r#"Dish(name: "Roast roots", portions: 8, steps: [Roast(at: "200 C", takes: "45 min", pan: "tray")])"#;
/// assert_eq!(read::dish(text, "roots.dish.ron")?.portions, Some(8));
/// assert!(read::dish("Dish(\"Roots\", [])", "roots.dish.ron").is_err());
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn dish(text: &str, name: &str) -> Result<Dish, Faults> {
    let mut sources = Sources::default();
    let mut faults = Vec::new();
    let mut r = Reading::new(name, text, &mut sources, &mut faults);
    let dish = tree(&mut r, text).and_then(|tree| menu::booked(&mut r, &tree));
    match dish {
        Some(dish) if faults.is_empty() => Ok(dish),
        _ => Err(Faults::sorted(faults)),
    }
}

/// As much of a kitchen as can be read, where its parts stand, and what is wrong with the rest.
pub(crate) fn kitchen(text: &str, name: &str) -> (Option<Kitchen>, Sources, Vec<Fault>) {
    let mut sources = Sources::default();
    let mut faults = Vec::new();
    let mut r = Reading::new(name, text, &mut sources, &mut faults);
    let read = tree(&mut r, text).map(|tree| kitchen::kitchen(&mut r, &tree));
    (read, sources, faults)
}

/// The text as a tree. What begins with a brace is JSON, everything else RON.
fn tree(r: &mut Reading<'_>, text: &str) -> Option<Node> {
    let body = text.trim_start_matches('\u{feff}').trim_start();
    if text.len() > LONGEST {
        let cause = format!("the text is {} bytes long, more than {LONGEST}", text.len());
        r.fault(Code::TooLong, &(0..0), cause, "give the file of a menu or of a kitchen");
        return None;
    }
    if body.is_empty() {
        r.fault(Code::Empty, &(0..0), "the text is empty", "start with Menu(, Kitchen( or Dish( or look at an example");
        return None;
    }
    let source = node::Source(text);
    let skipped = text.len() - text.trim_start_matches('\u{feff}').len();
    let parsed = if body.starts_with('{') {
        json::parse(&text[skipped..], source)
    } else {
        ron::parse(&text[skipped..], source)
    };
    match parsed {
        Ok(tree) => Some(tree),
        Err(node::Unreadable { why, at }) => {
            let at = (at + skipped).min(text.len());
            let end = text[at..].chars().next().map_or(at, |c| at + c.len_utf8());
            let remedy = match &text[at..end] {
                "“" | "”" | "„" | "‘" | "’" | "«" | "»" => "write straight quotation marks: \"...\"",
                _ => "look just before this place",
            };
            r.fault(Code::Syntax, &(at..end), format!("this cannot be read: {why}"), remedy);
            None
        }
    }
}
