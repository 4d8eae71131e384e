//! Safety gaps against brute force, closed forms and values that were found with another program.
//!
//! `data/gaps.json`: brute force in Python with networkx, apart from this program; made for this project.

use serde_json::Value;
use works::{
    Line, Parts, Place, Risk, closing_line, closing_order, even_gaps, even_loss, gaps_on_line,
    gaps_on_network,
};

fn data() -> Value {
    serde_json::from_str(include_str!("data/gaps.json")).expect("the table is JSON")
}

fn list<T>(value: &Value, of: impl Fn(&Value) -> T) -> Vec<T> {
    value.as_array().expect("a list").iter().map(of).collect()
}

fn real(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn whole(value: &Value) -> u64 {
    value.as_u64().expect("a whole number")
}

struct Numbers(u64);

impl Numbers {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
}

#[test]
fn lines_of_the_table_have_the_least_loss_and_the_same_cuts() {
    for case in data()["line"].as_array().expect("lines") {
        let (rate, built) = (list(&case["rate"], real), list(&case["built"], real));
        let line = Line { rate: &rate, built: &built, end: real(&case["end"]) };
        let best = gaps_on_line(&line, whole(&case["k"]) as usize).expect("the line is sound");
        assert!((best.loss - real(&case["loss"])).abs() < 1e-6, "{} {}", best.loss, case["loss"]);
        assert_eq!(best.cuts, list(&case["cuts_before_piece"], |v| whole(v) as u32));
    }
}

/// The loss by its definition.
fn loss(line: &Line<'_>, cuts: &[u32]) -> f64 {
    let n = line.rate.len();
    let part = |p: usize| cuts.iter().filter(|&&c| c as usize <= p).count();
    let mut sum = 0.0;
    for p in 0..n {
        for q in (0..n).filter(|&q| part(p) == part(q)) {
            sum += line.rate[p] * (line.end - line.built[p].max(line.built[q]));
        }
    }
    sum
}

#[test]
fn random_lines_equal_brute_force() {
    let mut numbers = Numbers(1);
    for _ in 0..300 {
        let n = 2 + numbers.below(9) as usize;
        let rate: Vec<f64> = (0..n).map(|_| numbers.below(1000) as f64 / 1000.0).collect();
        let mut built: Vec<f64> = (0..n).map(|_| numbers.below(1000) as f64 / 1000.0).collect();
        built.sort_by(f64::total_cmp);
        let line = Line { rate: &rate, built: &built, end: 1.2 };
        let k = numbers.below(n as u64) as usize;
        let best = gaps_on_line(&line, k).expect("the line is sound");
        assert!((best.loss - loss(&line, &best.cuts)).abs() < 1e-9);
        let mut least = f64::INFINITY;
        for set in 0_u32..1 << (n - 1) {
            if set.count_ones() as usize == k {
                let cuts: Vec<u32> = (1..n as u32).filter(|c| set >> (c - 1) & 1 == 1).collect();
                least = least.min(loss(&line, &cuts));
            }
        }
        assert!((best.loss - least).abs() < 1e-9, "{} {least}", best.loss);
    }
}

/// n / (k + 1), and the closed sum of squares for 12 345 pieces in 11 parts: 3 · 1123² + 8 · 1122² = 13 854 459.
#[test]
fn even_lines_follow_the_closed_forms() {
    assert_eq!(even_loss(12_345, 10), 13_854_459);
    assert_eq!(even_loss(10_000, 9), 10_000 * 1_000);
    assert_eq!(even_loss(10_000, 99), 10_000 * 100);
    assert_eq!(even_loss(5, 100), 5);
    assert_eq!(even_loss(0, 3), 0);
    for (n, k) in [(12_345, 10), (10_000, 9), (10_000, 99), (10_000, 50)] {
        let (rate, built) = (vec![1.0; n], vec![0.0; n]);
        let best =
            gaps_on_line(&Line { rate: &rate, built: &built, end: 1.0 }, k).expect("the line is sound");
        assert!((best.loss - even_loss(n as u64, k as u64) as f64).abs() < 1e-3, "{}", best.loss);
        assert_eq!(best.cuts.len(), k);
    }
    // The best number of parts is √(M n / g) = √(2.5 · 25 000 / 20) ≈ 55.9.
    assert_eq!(even_gaps(25_000, 2.5, 20.0), 55);
    let cost = |k: u64| 2.5 * even_loss(25_000, k) as f64 / 25_000.0 + 20.0 * k as f64;
    assert!((0..200).all(|k| cost(55) <= cost(k) + 1e-9));
    assert_eq!(even_gaps(10, 0.0, 0.0), 0);
    assert_eq!(even_gaps(10, 1e12, 1.0), 9);
}

#[test]
fn lines_that_cannot_be_are_refused_and_short_ones_are_not() {
    let bad = |rate: &[f64], built: &[f64], end| gaps_on_line(&Line { rate, built, end }, 1).is_err();
    assert!(bad(&[1.0], &[], 1.0));
    assert!(bad(&[1.0, 1.0], &[0.5, 0.4], 1.0));
    assert!(bad(&[f64::NAN], &[0.0], 1.0));
    assert!(bad(&[-1.0], &[0.0], 1.0));
    assert!(bad(&[1.0], &[2.0], 1.0));
    let none = gaps_on_line(&Line { rate: &[], built: &[], end: 1.0 }, 5).expect("nothing to cut");
    assert!(none.cuts.is_empty());
    let two =
        gaps_on_line(&Line { rate: &[1.0; 2], built: &[0.0; 2], end: 1.0 }, 9).expect("the line is sound");
    assert_eq!(two.cuts, [1]);
}

/// Least cost over all sets of open places.
fn brute(parts: &Parts) -> u64 {
    let (n, m) = (parts.weight.len(), parts.places.len());
    let mut least = u64::MAX;
    for open in 0_u32..1 << m {
        let mut part: Vec<usize> = (0..n).collect();
        let mut price = 0;
        for (i, p) in parts.places.iter().enumerate() {
            if open >> i & 1 == 1 {
                price += p.price;
                continue;
            }
            let (a, b) = (part[p.a as usize], part[p.b as usize]);
            part.iter_mut().filter(|p| **p == a).for_each(|p| *p = b);
        }
        let weight =
            |p: usize| (0..n).filter(|&v| part[v] == p).map(|v| u64::from(parts.weight[v])).sum::<u64>();
        let cost = price + (0..n).map(|p| weight(p) * weight(p)).sum::<u64>();
        least = least.min(cost);
    }
    least
}

fn network(numbers: &mut Numbers, n: u64, loops: u64) -> Parts {
    let weight = (0..n).map(|_| 1 + numbers.below(60) as u32).collect();
    let price = |numbers: &mut Numbers| 100 + numbers.below(1_800);
    let mut places: Vec<Place> =
        (1..n).map(|v| Place { a: v as u32, b: numbers.below(v) as u32, price: price(numbers) }).collect();
    for _ in 0..loops {
        let (a, b) = (numbers.below(n) as u32, numbers.below(n) as u32);
        if a != b {
            places.push(Place { a, b, price: price(numbers) });
        }
    }
    Parts { weight, places }
}

#[test]
fn networks_of_the_table_have_the_least_cost() {
    for case in data()["net"].as_array().expect("networks") {
        let weight = list(&case["weight"], |v| whole(v) as u32);
        let place = |v: &Value| Place { a: whole(&v[0]) as u32, b: whole(&v[1]) as u32, price: whole(&v[2]) };
        let parts = Parts { weight, places: list(&case["edges_a_b_price"], place) };
        let best = gaps_on_network(&parts);
        assert_eq!(best.cost, whole(&case["cost"]));
        // Another set may cost the same; here there is only one.
        assert_eq!(best.open, list(&case["one_best_cut"], |v| whole(v) as u32));
    }
}

#[test]
fn trees_equal_brute_force_and_say_that_they_are_exact() {
    let mut numbers = Numbers(5);
    for _ in 0..300 {
        let n = 2 + numbers.below(9);
        let mut parts = network(&mut numbers, n, 0);
        if numbers.below(3) == 0 {
            parts.places.remove(numbers.below(n - 1) as usize);
        }
        let best = gaps_on_network(&parts);
        assert!(best.exact);
        assert_eq!(best.cost, brute(&parts), "{parts:?}");
    }
}

#[test]
fn networks_with_loops_equal_brute_force() {
    let (mut numbers, mut worse) = (Numbers(11), 0);
    for _ in 0..300 {
        let n = 4 + numbers.below(4);
        let loops = 1 + numbers.below(5);
        let parts = network(&mut numbers, n, loops);
        let (best, least) = (gaps_on_network(&parts), brute(&parts));
        assert!(best.cost >= least);
        assert!(best.cost as f64 <= 1.01 * least as f64, "{} against {least}: {parts:?}", best.cost);
        worse += u32::from(best.cost > least);
    }
    println!("{worse} of 300 networks with loops are not optimal");
    assert!(worse <= 3);
}

#[test]
fn a_heavy_line_of_nodes_is_cut_about_evenly() {
    // From n² / m + g (m - 1) the best number of parts is m = n / √g = 20 000 / 1 000.
    let parts = Parts {
        weight: vec![100; 200],
        places: (1..200).map(|v| Place { a: v - 1, b: v, price: 1_000_000 }).collect(),
    };
    let best = gaps_on_network(&parts);
    // 20 parts of 1 000 pieces: 20 · 10⁶ + 19 · 10⁶.
    assert!(best.cost <= 39_500_000, "{}", best.cost);
    assert!((18..=22).contains(&(best.open.len() + 1)));
}

#[test]
fn nonsense_places_are_left_out() {
    let parts = Parts {
        weight: vec![3],
        places: vec![Place { a: 0, b: 9, price: 1 }, Place { a: 0, b: 0, price: 1 }],
    };
    assert_eq!(gaps_on_network(&parts).cost, 9);
    assert_eq!(gaps_on_network(&Parts::default()).cost, 0);
}

#[test]
fn closings_of_the_table_have_the_least_totals() {
    for case in data()["closing"].as_array().expect("closings") {
        let sizes = list(&case["size"], whole);
        let hands = closing_line(&sizes, Risk::Hands);
        assert_eq!(hands.total, whole(&case["least_merge_total"]));
        let waiting = closing_line(&sizes, Risk::Waiting);
        assert_eq!(waiting.total, whole(&case["least_sum_of_squares_total"]));
        assert!(hands.exact && waiting.exact);
        assert_eq!(waiting.loss.iter().sum::<u64>(), waiting.total);
    }
}

/// The least total of merging neighbours, in cubic time.
fn cubic(sizes: &[u64]) -> u64 {
    let n = sizes.len();
    let sum = |i: usize, j: usize| sizes[i..=j].iter().sum::<u64>();
    let mut least = vec![vec![0; n]; n];
    for length in 1..n {
        for i in 0..n - length {
            let j = i + length;
            let best = (i..j).map(|m| least[i][m] + least[m + 1][j]).min();
            least[i][j] = sum(i, j) + best.unwrap_or(0);
        }
    }
    least[0][n - 1]
}

#[test]
fn long_lines_are_closed_at_the_least_total() {
    let mut numbers = Numbers(3);
    for _ in 0..200 {
        let n = 17 + numbers.below(40);
        let most = [3, 100, 100_000][numbers.below(3) as usize];
        let sizes: Vec<u64> = (0..n).map(|_| 1 + numbers.below(most)).collect();
        let closing = closing_line(&sizes, Risk::Hands);
        assert_eq!(closing.total, cubic(&sizes), "{sizes:?}");
        let mut order = closing.order.clone();
        order.sort_unstable();
        assert!(order.iter().copied().eq(0..n as u32 - 1));
    }
}

/// 16 equal segments of 1000: 16 · 1000 · log2 16 = 64 000 against 135 000 from left to right; waiting 8.9·10⁸ against
/// 1.6·10⁹ (arithmetic).
#[test]
fn sixteen_equal_segments_are_closed_in_pairs() {
    let sizes = [1_000; 16];
    assert_eq!(closing_line(&sizes, Risk::Hands).total, 64_000);
    assert_eq!((2..=16).map(|n| n * 1_000).sum::<u64>(), 135_000);
    let waiting = closing_line(&sizes, Risk::Waiting).total;
    assert!((waiting as f64 / 8.9e8 - 1.0).abs() < 0.01, "{waiting}");
    // 17 segments go by the rule of the smallest product.
    let long = closing_line(&[1_000; 17], Risk::Waiting);
    assert!(!long.exact && long.total < 1_200_000_000, "{}", long.total);
}

#[test]
fn gaps_in_a_ring_and_gaps_of_many_lanes_are_closed_too() {
    // A ring of three parts and three gaps: the last closing joins nothing new.
    let ring = closing_order(&[10, 20, 30], &[vec![0, 1], vec![1, 2], vec![2, 0]], Risk::Hands);
    assert_eq!(ring.total, 30 + 60 + 60);
    let lanes = closing_order(&[5, 5, 5, 5, 9], &[vec![0, 1, 2, 3], vec![3, 4]], Risk::Waiting);
    assert_eq!(lanes.order, [1, 0]);
    assert!(closing_order(&[], &[], Risk::Hands).order.is_empty());
    assert_eq!(closing_order(&[4], &[vec![0, 7]], Risk::Hands).total, 4);
}
