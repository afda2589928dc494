//! Numbers written out in five languages, by a writer that shares nothing with the reader.

const EN: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const FR: [&str; 20] = [
    "zéro", "un", "deux", "trois", "quatre", "cinq", "six", "sept", "huit", "neuf", "dix", "onze",
    "douze", "treize", "quatorze", "quinze", "seize", "dix-sept", "dix-huit", "dix-neuf",
];
const DE: [&str; 20] = [
    "null",
    "ein",
    "zwei",
    "drei",
    "vier",
    "fünf",
    "sechs",
    "sieben",
    "acht",
    "neun",
    "zehn",
    "elf",
    "zwölf",
    "dreizehn",
    "vierzehn",
    "fünfzehn",
    "sechzehn",
    "siebzehn",
    "achtzehn",
    "neunzehn",
];
const ES: [&str; 30] = [
    "cero",
    "uno",
    "dos",
    "tres",
    "cuatro",
    "cinco",
    "seis",
    "siete",
    "ocho",
    "nueve",
    "diez",
    "once",
    "doce",
    "trece",
    "catorce",
    "quince",
    "dieciséis",
    "diecisiete",
    "dieciocho",
    "diecinueve",
    "veinte",
    "veintiuno",
    "veintidós",
    "veintitrés",
    "veinticuatro",
    "veinticinco",
    "veintiséis",
    "veintisiete",
    "veintiocho",
    "veintinueve",
];
const IT: [&str; 20] = [
    "zero",
    "uno",
    "due",
    "tre",
    "quattro",
    "cinque",
    "sei",
    "sette",
    "otto",
    "nove",
    "dieci",
    "undici",
    "dodici",
    "tredici",
    "quattordici",
    "quindici",
    "sedici",
    "diciassette",
    "diciotto",
    "diciannove",
];

/// A number from 0 to 9,999 in the words of a language.
pub fn written(number: usize, code: &str) -> String {
    match code {
        "en" => english(number),
        "fr" => french(number),
        "de" => german(number),
        "es" => spanish(number),
        _ => italian(number),
    }
}

fn english(number: usize) -> String {
    const TENS: [&str; 10] =
        ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
    let rest = |rest: usize| match rest {
        0 => String::new(),
        1..100 => format!(" and {}", english(rest)),
        _ => format!(" {}", english(rest)),
    };
    match number {
        0..20 => EN[number].to_owned(),
        20..100 if number.is_multiple_of(10) => TENS[number / 10].to_owned(),
        20..100 => format!("{}-{}", TENS[number / 10], EN[number % 10]),
        100..1000 => format!("{} hundred{}", EN[number / 100], rest(number % 100)),
        _ => format!("{} thousand{}", EN[number / 1000], rest(number % 1000)),
    }
}

fn french(number: usize) -> String {
    const TENS: [&str; 7] = ["", "", "vingt", "trente", "quarante", "cinquante", "soixante"];
    let after = |rest: usize| match rest {
        0 => String::new(),
        _ => format!(" {}", french(rest)),
    };
    match number {
        0..20 => FR[number].to_owned(),
        80 => "quatre-vingts".to_owned(),
        81..100 => format!("quatre-vingt-{}", FR[number - 80]),
        71 => "soixante et onze".to_owned(),
        60..80 if number > 61 => format!("soixante-{}", FR[number - 60]),
        20..80 => match number % 10 {
            0 => TENS[number / 10].to_owned(),
            1 => format!("{} et un", TENS[number / 10]),
            unit => format!("{}-{}", TENS[number / 10], FR[unit]),
        },
        100..1000 => {
            let (hundreds, rest) = (number / 100, number % 100);
            let head = match (hundreds, rest) {
                (1, _) => "cent".to_owned(),
                (_, 0) => format!("{} cents", FR[hundreds]),
                _ => format!("{} cent", FR[hundreds]),
            };
            head + &after(rest)
        }
        1000..2000 => format!("mille{}", after(number - 1000)),
        _ => format!("{} mille{}", FR[number / 1000], after(number % 1000)),
    }
}

fn german(number: usize) -> String {
    const TENS: [&str; 10] = [
        "", "", "zwanzig", "dreißig", "vierzig", "fünfzig", "sechzig", "siebzig", "achtzig",
        "neunzig",
    ];
    let after = |rest: usize| match rest {
        0 => String::new(),
        _ => german(rest),
    };
    match number {
        0..20 => DE[number].to_owned(),
        20..100 if number.is_multiple_of(10) => TENS[number / 10].to_owned(),
        20..100 => format!("{}und{}", DE[number % 10], TENS[number / 10]),
        100..1000 => format!("{}hundert{}", DE[number / 100], after(number % 100)),
        _ => format!("{}tausend{}", DE[number / 1000], after(number % 1000)),
    }
}

fn spanish(number: usize) -> String {
    const TENS: [&str; 10] = [
        "",
        "",
        "",
        "treinta",
        "cuarenta",
        "cincuenta",
        "sesenta",
        "setenta",
        "ochenta",
        "noventa",
    ];
    const HUNDREDS: [&str; 10] = [
        "",
        "ciento",
        "doscientos",
        "trescientos",
        "cuatrocientos",
        "quinientos",
        "seiscientos",
        "setecientos",
        "ochocientos",
        "novecientos",
    ];
    let after = |rest: usize| match rest {
        0 => String::new(),
        _ => format!(" {}", spanish(rest)),
    };
    match number {
        0..30 => ES[number].to_owned(),
        30..100 if number.is_multiple_of(10) => TENS[number / 10].to_owned(),
        30..100 => format!("{} y {}", TENS[number / 10], ES[number % 10]),
        100 => "cien".to_owned(),
        101..1000 => format!("{}{}", HUNDREDS[number / 100], after(number % 100)),
        1000..2000 => format!("mil{}", after(number - 1000)),
        _ => format!("{} mil{}", ES[number / 1000], after(number % 1000)),
    }
}

fn italian(number: usize) -> String {
    const TENS: [&str; 10] = [
        "",
        "",
        "venti",
        "trenta",
        "quaranta",
        "cinquanta",
        "sessanta",
        "settanta",
        "ottanta",
        "novanta",
    ];
    let after = |rest: usize| match rest {
        0 => String::new(),
        _ => italian(rest),
    };
    match number {
        0..20 => IT[number].to_owned(),
        20..100 => {
            let (tens, unit) = (TENS[number / 10], number % 10);
            match unit {
                0 => tens.to_owned(),
                1 | 8 => format!("{}{}", &tens[..tens.len() - 1], IT[unit]),
                3 => format!("{tens}tré"),
                _ => format!("{tens}{}", IT[unit]),
            }
        }
        100..200 => format!("cento{}", after(number - 100)),
        200..1000 => format!("{}cento{}", IT[number / 100], after(number % 100)),
        1000..2000 => format!("mille{}", after(number - 1000)),
        _ => format!("{}mila{}", IT[number / 1000], after(number % 1000)),
    }
}

/// Parts written out in a language, each with what is above and below the line.
pub const PARTS: [(&str, &str, i64, i64); 60] = [
    ("en", "half", 1, 2),
    ("en", "a half", 1, 2),
    ("en", "one third", 1, 3),
    ("en", "two thirds", 2, 3),
    ("en", "a quarter", 1, 4),
    ("en", "three quarters", 3, 4),
    ("en", "three-quarters", 3, 4),
    ("en", "two fifths", 2, 5),
    ("en", "one sixth", 1, 6),
    ("en", "five eighths", 5, 8),
    ("en", "nine tenths", 9, 10),
    ("en", "one and a half", 3, 2),
    ("en", "two and three quarters", 11, 4),
    ("en", "a hundred and a half", 201, 2),
    ("fr", "un demi", 1, 2),
    ("fr", "demi", 1, 2),
    ("fr", "un tiers", 1, 3),
    ("fr", "deux tiers", 2, 3),
    ("fr", "un quart", 1, 4),
    ("fr", "trois quarts", 3, 4),
    ("fr", "trois cinquièmes", 3, 5),
    ("fr", "un huitième", 1, 8),
    ("fr", "neuf dixièmes", 9, 10),
    ("fr", "deux et demi", 5, 2),
    ("fr", "une et demie", 3, 2),
    ("fr", "un et trois quarts", 7, 4),
    ("de", "halb", 1, 2),
    ("de", "ein halbes", 1, 2),
    ("de", "ein drittel", 1, 3),
    ("de", "zwei drittel", 2, 3),
    ("de", "zweidrittel", 2, 3),
    ("de", "ein viertel", 1, 4),
    ("de", "drei viertel", 3, 4),
    ("de", "dreiviertel", 3, 4),
    ("de", "zwei fünftel", 2, 5),
    ("de", "drei achtel", 3, 8),
    ("de", "neun zehntel", 9, 10),
    ("de", "anderthalb", 3, 2),
    ("de", "eineinhalb", 3, 2),
    ("de", "zweieinhalb", 5, 2),
    ("de", "zweidreiviertel", 11, 4),
    ("es", "medio", 1, 2),
    ("es", "un tercio", 1, 3),
    ("es", "dos tercios", 2, 3),
    ("es", "un cuarto", 1, 4),
    ("es", "tres cuartos", 3, 4),
    ("es", "dos quintos", 2, 5),
    ("es", "un octavo", 1, 8),
    ("es", "nueve décimos", 9, 10),
    ("es", "uno y medio", 3, 2),
    ("es", "dos y cuarto", 9, 4),
    ("it", "mezzo", 1, 2),
    ("it", "un terzo", 1, 3),
    ("it", "due terzi", 2, 3),
    ("it", "un quarto", 1, 4),
    ("it", "tre quarti", 3, 4),
    ("it", "due quinti", 2, 5),
    ("it", "un ottavo", 1, 8),
    ("it", "nove decimi", 9, 10),
    ("it", "uno e mezzo", 3, 2),
];
