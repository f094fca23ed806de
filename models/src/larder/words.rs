//! The words food is called by in English kitchens (common practice, no source), longest phrase first.

use super::{Allergen, Food};

use Allergen as A;
use Food as F;

/// Words that are something to do where a job is told: "roll and tie the shoulder" asks for no bread.
pub(super) const VERBS: &[&str] = &["roll"];

/// A text that has one of these has no meat in it, whatever else it is called.
pub(super) const MEATLESS: &[&str] =
    &["vegan", "vegetarian", "veggie", "meatless", "vegetable", "mock", "plant", "nut"];
/// After one of these a word is denied.
const NO: &[&str] = &["no", "without", "not"];
/// Bought or kept cooked, whatever it is.
const COOKED: &[&str] = &["cooked", "smoked", "leftover", "tinned", "canned", "cured", "deli", "ready", "rotisserie"];
/// The inside has been touched.
const OPENED: &[&str] = &[
    "stuffed",
    "stuffing",
    "stuff",
    "rolled",
    "roulade",
    "ballotine",
    "galantine",
    "tenderised",
    "tenderized",
    "injected",
    "needled",
    "minced",
    "forcemeat",
];

/// Everything a text says of food.
#[derive(Default)]
pub(super) struct Found {
    pub(super) foods: Vec<(Food, String)>,
    pub(super) allergens: Vec<(Allergen, String)>,
    pub(super) opened: Option<String>,
    pub(super) bought_cooked: bool,
}

type Entry = (&'static str, &'static [Food], &'static [Allergen]);

/// Phrases with several words stand for themselves alone: oyster mushrooms are no oysters.
const TABLE: &[Entry] = &[
    // Flesh.
    ("poultry", &[F::Poultry], &[]),
    ("chicken", &[F::Poultry], &[]),
    ("hen", &[F::Poultry], &[]),
    ("cockerel", &[F::Poultry], &[]),
    ("capon", &[F::Poultry], &[]),
    ("poussin", &[F::Poultry], &[]),
    ("turkey", &[F::Poultry], &[]),
    ("duck", &[F::Poultry], &[]),
    ("duckling", &[F::Poultry], &[]),
    ("goose", &[F::Poultry], &[]),
    ("quail", &[F::Poultry], &[]),
    ("pheasant", &[F::Poultry], &[]),
    ("partridge", &[F::Poultry], &[]),
    ("pigeon", &[F::Poultry], &[]),
    ("guinea fowl", &[F::Poultry], &[]),
    ("grouse", &[F::Poultry], &[]),
    ("fowl", &[F::Poultry], &[]),
    ("drumstick", &[F::Poultry], &[]),
    ("wings", &[F::Poultry], &[]),
    ("coq au vin", &[F::Poultry], &[A::Sulphites]),
    ("giblet", &[F::Poultry], &[]),
    ("pork", &[F::Pork], &[]),
    ("hog", &[F::Pork], &[]),
    ("suckling pig", &[F::Pork], &[]),
    ("porchetta", &[F::Pork], &[]),
    ("crackling", &[F::Pork], &[]),
    ("spare rib", &[F::Pork], &[]),
    ("gammon", &[F::Pork], &[]),
    ("trotter", &[F::Pork], &[]),
    ("carnitas", &[F::Pork], &[]),
    ("bacon", &[F::Pork], &[]),
    ("pancetta", &[F::Pork], &[]),
    ("lardons", &[F::Pork], &[]),
    ("boar", &[F::Pork], &[]),
    ("ham hock", &[F::Pork], &[]),
    ("fresh ham", &[F::Pork], &[]),
    ("beef", &[F::RedMeat], &[]),
    ("veal", &[F::RedMeat], &[]),
    ("lamb", &[F::RedMeat], &[]),
    ("mutton", &[F::RedMeat], &[]),
    ("hogget", &[F::RedMeat], &[]),
    ("goat", &[F::RedMeat], &[]),
    ("venison", &[F::RedMeat], &[]),
    ("kid", &[F::RedMeat], &[]),
    ("steak", &[F::RedMeat], &[]),
    ("oxtail", &[F::RedMeat], &[]),
    ("ox cheek", &[F::RedMeat], &[]),
    ("rabbit", &[F::RedMeat], &[]),
    ("hare", &[F::RedMeat], &[]),
    ("shank", &[F::RedMeat], &[]),
    ("hotpot", &[F::RedMeat], &[]),
    ("tagine", &[], &[]),
    ("meat", &[F::Meat], &[]),
    ("joint", &[F::Meat], &[]),
    ("goulash", &[F::RedMeat], &[]),
    ("offal", &[F::Meat], &[]),
    ("liver", &[F::Meat], &[]),
    ("kidney", &[F::Meat], &[]),
    ("kebab", &[F::Meat], &[]),
    ("brisket", &[F::RedMeat], &[]),
    ("stroganoff", &[F::RedMeat], &[A::Milk]),
    ("bourguignon", &[F::RedMeat], &[A::Sulphites]),
    ("carbonara", &[F::Pork, F::Egg], &[A::Gluten]),
    ("mince", &[F::Mince], &[]),
    ("minced", &[F::Mince], &[]),
    ("ground beef", &[F::Mince], &[]),
    ("ground pork", &[F::Mince], &[]),
    ("ground turkey", &[F::Mince, F::Poultry], &[]),
    ("ground chicken", &[F::Mince, F::Poultry], &[]),
    ("sausage", &[F::Mince], &[A::Gluten]),
    ("burger", &[F::Mince], &[]),
    ("hamburger", &[F::Mince], &[]),
    ("meatball", &[F::Mince], &[]),
    ("meatloaf", &[F::Mince], &[]),
    ("meat loaf", &[F::Mince], &[]),
    ("kofta", &[F::Mince], &[]),
    ("haggis", &[F::Mince], &[]),
    ("faggot", &[F::Mince], &[]),
    ("bolognese", &[F::Mince], &[]),
    ("lasagne", &[F::Mince, F::Dairy], &[A::Gluten]),
    ("moussaka", &[F::Mince, F::Dairy], &[]),
    ("cottage pie", &[F::Mince], &[]),
    ("shepherd s pie", &[F::Mince], &[]),
    ("shepherds pie", &[F::Mince], &[]),
    ("chilli con carne", &[F::Mince, F::KidneyBeans], &[]),
    ("chili con carne", &[F::Mince, F::KidneyBeans], &[]),
    ("toad in the hole", &[F::Mince, F::Egg], &[A::Gluten, A::Milk]),
    ("scotch egg", &[F::Mince, F::Egg], &[A::Gluten]),
    ("sausage meat", &[F::Mince], &[A::Gluten]),
    ("sausagemeat", &[F::Mince], &[A::Gluten]),
    ("steak tartare", &[F::Mince, F::Egg], &[]),
    ("beef tartare", &[F::Mince, F::Egg], &[]),
    ("ham", &[F::CookedMeat], &[]),
    ("salami", &[F::CookedMeat], &[]),
    ("chorizo", &[F::CookedMeat], &[]),
    ("prosciutto", &[F::CookedMeat], &[]),
    ("pate", &[F::CookedMeat], &[]),
    ("pastrami", &[F::CookedMeat], &[]),
    ("charcuterie", &[F::CookedMeat], &[]),
    ("cold cuts", &[F::CookedMeat], &[]),
    ("gravy", &[F::Gravy], &[]),
    ("jus", &[F::Gravy], &[]),
    ("chicken stock", &[F::Gravy], &[]),
    ("beef stock", &[F::Gravy], &[]),
    ("meat stock", &[F::Gravy], &[]),
    ("bone broth", &[F::Gravy], &[]),
    ("chicken broth", &[F::Gravy], &[]),
    ("chicken soup", &[F::Poultry, F::Gravy], &[]),
    // Fish.
    ("fish", &[F::Fish], &[]),
    ("salmon", &[F::Fish], &[]),
    ("trout", &[F::Fish], &[]),
    ("cod", &[F::Fish], &[]),
    ("haddock", &[F::Fish], &[]),
    ("mackerel", &[F::Fish], &[]),
    ("herring", &[F::Fish], &[]),
    ("tuna", &[F::Fish], &[]),
    ("sardine", &[F::Fish], &[]),
    ("pike", &[F::Fish], &[]),
    ("carp", &[F::Fish], &[]),
    ("eel", &[F::Fish], &[]),
    ("hake", &[F::Fish], &[]),
    ("halibut", &[F::Fish], &[]),
    ("plaice", &[F::Fish], &[]),
    ("turbot", &[F::Fish], &[]),
    ("sea bass", &[F::Fish], &[]),
    ("bream", &[F::Fish], &[]),
    ("pollock", &[F::Fish], &[]),
    ("ceviche", &[F::Fish], &[]),
    ("sushi", &[F::Fish, F::Rice], &[]),
    ("sashimi", &[F::Fish], &[]),
    ("gravlax", &[F::Fish], &[]),
    ("anchovy", &[], &[A::Fish]),
    ("anchovies", &[], &[A::Fish]),
    ("fish sauce", &[], &[A::Fish]),
    ("worcestershire sauce", &[], &[A::Fish]),
    ("kedgeree", &[F::Fish, F::Rice, F::Egg], &[]),
    ("paella", &[F::Rice, F::Shellfish], &[A::Crustaceans, A::Molluscs]),
    ("chowder", &[F::Fish, F::Dairy], &[]),
    ("prawn", &[F::Shellfish], &[A::Crustaceans]),
    ("shrimp", &[F::Shellfish], &[A::Crustaceans]),
    ("crab", &[F::Shellfish], &[A::Crustaceans]),
    ("lobster", &[F::Shellfish], &[A::Crustaceans]),
    ("langoustine", &[F::Shellfish], &[A::Crustaceans]),
    ("crayfish", &[F::Shellfish], &[A::Crustaceans]),
    ("shellfish", &[F::Shellfish], &[A::Crustaceans, A::Molluscs]),
    ("seafood", &[F::Shellfish, F::Fish], &[A::Crustaceans, A::Molluscs]),
    ("mussel", &[F::Shellfish], &[A::Molluscs]),
    ("oyster", &[F::Shellfish], &[A::Molluscs]),
    ("clam", &[F::Shellfish], &[A::Molluscs]),
    ("cockle", &[F::Shellfish], &[A::Molluscs]),
    ("whelk", &[F::Shellfish], &[A::Molluscs]),
    ("scallop", &[F::Shellfish], &[A::Molluscs]),
    ("squid", &[F::Shellfish], &[A::Molluscs]),
    ("calamari", &[F::Shellfish], &[A::Molluscs]),
    ("octopus", &[F::Shellfish], &[A::Molluscs]),
    // Eggs and milk.
    ("egg", &[F::Egg], &[]),
    ("yolk", &[F::Egg], &[]),
    ("omelette", &[F::Egg], &[]),
    ("frittata", &[F::Egg], &[]),
    ("tortilla espanola", &[F::Egg], &[]),
    ("mayonnaise", &[F::Egg], &[]),
    ("mayo", &[F::Egg], &[]),
    ("aioli", &[F::Egg], &[]),
    ("hollandaise", &[F::Egg], &[A::Milk]),
    ("bearnaise", &[F::Egg], &[A::Milk]),
    ("tartare sauce", &[F::Egg], &[]),
    ("meringue", &[F::Egg], &[]),
    ("pavlova", &[F::Egg, F::Dairy], &[]),
    ("mousse", &[F::Egg, F::Dairy], &[]),
    ("tiramisu", &[F::Egg, F::Dairy], &[A::Gluten]),
    ("zabaglione", &[F::Egg], &[]),
    ("sabayon", &[F::Egg], &[]),
    ("eggnog", &[F::Egg, F::Dairy], &[]),
    ("custard", &[F::Egg, F::Dairy], &[]),
    ("creme brulee", &[F::Egg, F::Dairy], &[]),
    ("quiche", &[F::Egg, F::Dairy], &[A::Gluten]),
    ("souffle", &[F::Egg, F::Dairy], &[]),
    ("trifle", &[F::Egg, F::Dairy], &[A::Gluten]),
    ("cheesecake", &[F::Dairy], &[A::Gluten]),
    ("panna cotta", &[F::Dairy], &[]),
    ("ice cream", &[F::Dairy], &[A::Egg]),
    ("cream", &[F::Dairy], &[]),
    ("milk", &[F::Dairy], &[]),
    ("mascarpone", &[F::Dairy], &[]),
    ("ricotta", &[F::Dairy], &[]),
    ("bechamel", &[F::Dairy], &[A::Gluten]),
    ("dauphinoise", &[F::Dairy], &[]),
    ("butter", &[], &[A::Milk]),
    ("cheese", &[], &[A::Milk]),
    ("cheddar", &[], &[A::Milk]),
    ("parmesan", &[], &[A::Milk]),
    ("feta", &[], &[A::Milk]),
    ("yoghurt", &[], &[A::Milk]),
    ("yogurt", &[], &[A::Milk]),
    ("ghee", &[], &[A::Milk]),
    ("rarebit", &[], &[A::Milk, A::Gluten]),
    // Rice and beans.
    ("rice", &[F::Rice], &[]),
    ("risotto", &[F::Rice], &[]),
    ("pilaf", &[F::Rice], &[]),
    ("pilau", &[F::Rice], &[]),
    ("biryani", &[F::Rice], &[]),
    ("arancini", &[F::Rice], &[A::Gluten]),
    ("congee", &[F::Rice], &[]),
    ("rice pudding", &[F::Rice, F::Dairy], &[]),
    ("jambalaya", &[F::Rice], &[]),
    ("kidney bean", &[F::KidneyBeans], &[]),
    ("red bean", &[F::KidneyBeans], &[]),
    ("cannellini", &[F::KidneyBeans], &[]),
    ("borlotti", &[F::KidneyBeans], &[]),
    ("haricot", &[F::Beans], &[]),
    ("butter bean", &[F::Beans], &[]),
    ("black bean", &[F::KidneyBeans], &[]),
    ("chickpea", &[F::Beans], &[]),
    ("lentil", &[F::Beans], &[]),
    ("dried bean", &[F::KidneyBeans], &[]),
    ("cassoulet", &[F::Beans, F::Poultry], &[]),
    ("dal", &[F::Beans], &[]),
    ("dhal", &[F::Beans], &[]),
    // Only allergens.
    ("wheat", &[], &[A::Gluten]),
    ("flour", &[], &[A::Gluten]),
    ("rye", &[], &[A::Gluten]),
    ("barley", &[], &[A::Gluten]),
    ("oats", &[], &[A::Gluten]),
    ("oatmeal", &[], &[A::Gluten]),
    ("spelt", &[], &[A::Gluten]),
    ("semolina", &[], &[A::Gluten]),
    ("bread", &[], &[A::Gluten]),
    ("breadcrumb", &[], &[A::Gluten]),
    ("pasta", &[], &[A::Gluten]),
    ("noodle", &[], &[A::Gluten]),
    ("pastry", &[], &[A::Gluten]),
    ("couscous", &[], &[A::Gluten]),
    ("bulgur", &[], &[A::Gluten]),
    ("beer", &[], &[A::Gluten]),
    ("ale", &[], &[A::Gluten]),
    ("roll", &[], &[A::Gluten]),
    ("tart", &[], &[A::Gluten]),
    ("pie", &[], &[A::Gluten]),
    ("cake", &[F::Egg], &[A::Gluten]),
    ("sponge", &[F::Egg], &[A::Gluten]),
    ("dumpling", &[], &[A::Gluten]),
    ("pancake", &[F::Egg], &[A::Gluten, A::Milk]),
    ("crumble", &[], &[A::Gluten]),
    ("biscuit", &[], &[A::Gluten]),
    ("brioche", &[F::Egg], &[A::Gluten, A::Milk]),
    ("yorkshire pudding", &[F::Egg], &[A::Gluten, A::Milk]),
    ("almond", &[], &[A::Nuts]),
    ("hazelnut", &[], &[A::Nuts]),
    ("walnut", &[], &[A::Nuts]),
    ("cashew", &[], &[A::Nuts]),
    ("pecan", &[], &[A::Nuts]),
    ("brazil nut", &[], &[A::Nuts]),
    ("pistachio", &[], &[A::Nuts]),
    ("macadamia", &[], &[A::Nuts]),
    ("marzipan", &[], &[A::Nuts]),
    ("praline", &[], &[A::Nuts]),
    ("frangipane", &[F::Egg], &[A::Nuts, A::Gluten, A::Milk]),
    ("nut", &[], &[A::Nuts]),
    ("nuts", &[], &[A::Nuts]),
    ("pesto", &[], &[A::Nuts, A::Milk]),
    ("peanut", &[], &[A::Peanut]),
    ("satay", &[], &[A::Peanut]),
    ("groundnut", &[], &[A::Peanut]),
    ("soy", &[], &[A::Soya, A::Gluten]),
    ("soya", &[], &[A::Soya]),
    ("tofu", &[], &[A::Soya]),
    ("miso", &[], &[A::Soya]),
    ("tempeh", &[], &[A::Soya]),
    ("edamame", &[], &[A::Soya]),
    ("celery", &[], &[A::Celery]),
    ("celeriac", &[], &[A::Celery]),
    ("mustard", &[], &[A::Mustard]),
    ("sesame", &[], &[A::Sesame]),
    ("tahini", &[], &[A::Sesame]),
    ("hummus", &[], &[A::Sesame]),
    ("houmous", &[], &[A::Sesame]),
    ("halva", &[], &[A::Sesame]),
    ("wine", &[], &[A::Sulphites]),
    ("cider", &[], &[A::Sulphites]),
    ("raisin", &[], &[A::Sulphites]),
    ("sultana", &[], &[A::Sulphites]),
    ("dried apricot", &[], &[A::Sulphites]),
    ("lupin", &[], &[A::Lupin]),
    ("lupins", &[], &[A::Lupin]),
    // What only sounds like it.
    ("mincemeat", &[], &[A::Sulphites]),
    ("mince pie", &[], &[A::Gluten]),
    ("beetroot burger", &[], &[]),
    ("bean burger", &[F::Beans], &[]),
    ("mushroom burger", &[], &[]),
    ("lentil burger", &[F::Beans], &[]),
    ("chickpea burger", &[F::Beans], &[]),
    ("halloumi burger", &[], &[A::Milk]),
    ("refried bean", &[F::Beans], &[]),
    ("pork terrine", &[F::Pork, F::Mince], &[]),
    ("game terrine", &[F::RedMeat, F::Mince], &[]),
    ("country terrine", &[F::Meat, F::Mince], &[]),
    ("meat terrine", &[F::Meat, F::Mince], &[]),
    ("chicken terrine", &[F::Poultry, F::Mince], &[]),
    ("duck terrine", &[F::Poultry, F::Mince], &[]),
    ("mackerel pate", &[F::Fish], &[]),
    ("salmon pate", &[F::Fish], &[]),
    ("trout pate", &[F::Fish], &[]),
    ("fish pate", &[F::Fish], &[]),
    ("mushroom pate", &[], &[]),
    ("bean pate", &[F::Beans], &[]),
    ("lentil pate", &[], &[]),
    ("eggplant", &[], &[]),
    ("lamb s lettuce", &[], &[]),
    ("lambs lettuce", &[], &[]),
    ("beef tomato", &[], &[]),
    ("beef tomatoes", &[], &[]),
    ("beefsteak tomato", &[], &[]),
    ("beefsteak tomatoes", &[], &[]),
    ("oyster mushroom", &[], &[]),
    ("oyster sauce", &[], &[A::Molluscs]),
    ("green bean", &[], &[]),
    ("runner bean", &[], &[]),
    ("french bean", &[], &[]),
    ("broad bean", &[], &[]),
    ("coffee bean", &[], &[]),
    ("vanilla bean", &[], &[]),
    ("bean sprout", &[], &[]),
    ("rice vinegar", &[], &[]),
    ("rice flour", &[], &[]),
    ("rice paper", &[], &[]),
    ("rice noodle", &[], &[]),
    ("rice wine", &[], &[A::Sulphites]),
    ("nut roast", &[], &[A::Nuts]),
    ("goose fat", &[], &[]),
    ("duck fat", &[], &[]),
    ("bacon fat", &[], &[]),
    ("beef dripping", &[], &[]),
    ("duck egg", &[F::Egg], &[]),
    ("quail egg", &[F::Egg], &[]),
    ("quail s egg", &[F::Egg], &[]),
    ("goose egg", &[F::Egg], &[]),
    ("hen s egg", &[F::Egg], &[]),
    ("coconut milk", &[], &[]),
    ("coconut cream", &[], &[]),
    ("almond milk", &[], &[A::Nuts]),
    ("oat milk", &[], &[A::Gluten]),
    ("soya milk", &[], &[A::Soya]),
    ("soy milk", &[], &[A::Soya]),
    ("cream of tartar", &[], &[]),
    ("peanut butter", &[], &[A::Peanut]),
    ("cocoa butter", &[], &[]),
    ("apple butter", &[], &[]),
    ("butternut", &[], &[]),
    ("nutmeg", &[], &[]),
    ("coconut", &[], &[]),
    ("doughnut", &[], &[A::Gluten]),
    ("chestnut", &[], &[]),
    ("water chestnut", &[], &[]),
    ("chestnut mushroom", &[], &[]),
    ("rice pan", &[], &[]),
    ("gooseberry", &[], &[]),
    ("gooseberries", &[], &[]),
    ("crab apple", &[], &[]),
    ("turkey oak", &[], &[]),
    ("fish slice", &[], &[]),
    ("fish kettle", &[], &[]),
    ("chicken wire", &[], &[]),
    ("milk jug", &[], &[]),
    ("egg wash", &[], &[A::Egg]),
    ("egg timer", &[], &[]),
    ("bread roll", &[], &[A::Gluten]),
    ("meat thermometer", &[], &[]),
    ("meat free", &[], &[]),
    ("vegetable stock", &[], &[A::Celery]),
    ("mushroom mince", &[], &[]),
    ("soya mince", &[], &[A::Soya]),
    ("sugar snap", &[], &[]),
    ("swiss roll", &[], &[A::Gluten]),
    ("corn bread", &[], &[]),
    ("stock cube", &[], &[A::Celery]),
    ("fruit", &[], &[]),
    ("buckwheat", &[], &[]),
    ("ginger beer", &[], &[]),
    ("ginger ale", &[], &[]),
    ("wine glass", &[], &[]),
    ("wine vinegar", &[], &[A::Sulphites]),
    ("cider vinegar", &[], &[A::Sulphites]),
    ("shellfish free", &[], &[]),
    ("red meat", &[F::RedMeat], &[]),
    ("kidney shaped", &[], &[]),
    ("joint of", &[F::Meat], &[]),
    ("the joint", &[F::Meat], &[]),
    ("roast potato", &[], &[]),
    ("mock", &[], &[]),
];

/// Words of a text in lower case, without accents that English kitchens leave out as often as not.
pub(crate) fn tokens(text: &str) -> Vec<String> {
    let plain = |c: char| match c {
        'é' | 'è' | 'ê' | 'É' => 'e',
        'û' | 'ü' => 'u',
        'â' | 'à' => 'a',
        'ñ' => 'n',
        'ï' | 'î' => 'i',
        other => other,
    };
    let text: String = text.chars().map(plain).flat_map(char::to_lowercase).collect();
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// One of a word that may be many: `chickens` is `chicken`, `sardines` is `sardine`.
fn same(token: &str, word: &str) -> bool {
    token == word
        || token.strip_suffix('s') == Some(word)
        || token.strip_suffix("es") == Some(word)
        || token.strip_suffix("ies").is_some_and(|stem| word.strip_suffix('y') == Some(stem))
}

/// How many tokens a phrase takes at the start of these; none if it is another one.
fn matched(tokens: &[String], phrase: &str) -> usize {
    let mut taken = 0;
    for word in phrase.split(' ') {
        match tokens.get(taken) {
            Some(token) if same(token, word) => taken += 1,
            _ => return 0,
        }
    }
    taken
}

/// A text cut into the longest phrases that are known, and single words that are not.
fn phrases(tokens: &[String]) -> Vec<(&[String], Option<&'static Entry>)> {
    let mut phrases = Vec::new();
    let mut rest = tokens;
    while !rest.is_empty() {
        let longest = TABLE.iter().map(|entry| (matched(rest, entry.0), entry)).max_by_key(|own| own.0);
        let known = longest.filter(|(taken, _)| *taken > 0);
        let (phrase, after) = rest.split_at(known.map_or(1, |(taken, _)| taken));
        phrases.push((phrase, known.map(|(_, entry)| entry)));
        rest = after;
    }
    phrases
}

/// The words of a text that belong to no phrase of several words: green beans are not beans that somebody should ask about.
pub(super) fn alone(text: &str) -> Vec<String> {
    let tokens = tokens(text);
    let single = phrases(&tokens).into_iter().filter(|(phrase, _)| phrase.len() == 1);
    single.flat_map(|(phrase, _)| phrase.to_vec()).collect()
}

/// What a text says of food.
pub(super) fn of(text: &str) -> Found {
    let tokens = tokens(text);
    let mut found = Found::default();
    let mut gone: Vec<&Entry> = Vec::new();
    let phrases = phrases(&tokens);
    for (number, (phrase, entry)) in phrases.iter().enumerate() {
        let Some(entry) = entry else { continue };
        let word_at = |at: usize| phrases.get(at).map(|(words, _)| words);
        let before = number.checked_sub(1).and_then(word_at).and_then(|words| words.last());
        let after = word_at(number + 1).and_then(|words| words.first());
        let denied = before.is_some_and(|word| NO.contains(&word.as_str())) || after.is_some_and(|word| word == "free");
        if denied {
            gone.push(entry);
        } else {
            let word = phrase.join(" ");
            found.foods.extend(entry.1.iter().map(|&food| (food, word.clone())));
            found.allergens.extend(entry.2.iter().map(|&allergen| (allergen, word.clone())));
        }
    }
    // What is denied once is not in there by another word: an egg-free sponge has none.
    found.foods.retain(|(food, _)| !gone.iter().any(|entry| entry.1.contains(food)));
    found.allergens.retain(|(allergen, _)| !gone.iter().any(|entry| entry.2.contains(allergen)));
    found.opened = tokens.iter().find(|word| OPENED.contains(&word.as_str())).cloned();
    found.bought_cooked = tokens.iter().any(|word| COOKED.contains(&word.as_str()));
    found
}
