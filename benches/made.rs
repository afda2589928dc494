//! Bakehouses of any size, for benches: the same number gives the same text.

/// A formula of about 1.5 KB with its own name and figures.
pub fn formula(number: usize) -> String {
    let vary = |from: usize, span: usize, step: usize| from + (number * step) % span;
    let (wholemeal, rye) = (vary(5, 20, 7), vary(0, 8, 3));
    let bread = 100 - wholemeal - rye;
    let rye_line =
        if rye == 0 { String::new() } else { format!("    medium rye flour   {rye:>3}%\n") };
    let (water, fermented) = (vary(68, 12, 5), vary(12, 12, 11));
    let (salt, pieces, weight) = (vary(19, 4, 1), vary(6, 40, 13), 500 + 50 * (number % 12));
    format!(
        "# Formula {number} of a made-up bakehouse.
formula made-loaf-{number} \"Made Loaf {number}\" {{
  style      country bread
  makes      {pieces} loaves at {weight} g      # dough weight of one
  bake loss  {loss}%

  headnote   \"A made-up loaf, number {number}, that stands in for many real ones.\"
  storage    \"Cut side down on a board, three days.\"
  caution    \"The pot is at 245 °C: dry gloves, lid away from you.\"

  total {{
    bread flour        {bread:>3}%              # flours add up to 100 %
    whole wheat flour  {wholemeal:>3}%
{rye_line}    water              {water:>3}%
    salt                 {salt}%
    sunflower seeds      4%
  }}

  preferment levain {{
    ferments  {fermented}% of flour
    bread flour       100%
    water             100%
    white culture      20%
    ripens  8h..10h at 22C; keeps 2h
  }}

  method {{
    autolyse  40min with flours, 90% of water
    mix       6min..8min with levain, salt, remaining water to 25C
    mix       2min with everything else
    bulk      3h..4h at 25C fold 3 times every 40min until volume 1.5x
    divide    15min
    preshape  10min
    rest      20min covered
    shape     20min
    proof     10h..16h at 4C covered
    score     5min
    bake      {{
      22min at 245C steamed
      then 20min at 225C vented until core 97C
    }}
    cool      1h..2h note \"On a rack.\"
  }}

  expect {{
    hydration           {water}%
    salt                {salt}%
    prefermented flour  {fermented}%
    pieces              {pieces}
  }}
}}
",
        loss = vary(10, 6, 1),
        salt = format_args!("{}.{}", salt / 10, salt % 10),
    )
}
