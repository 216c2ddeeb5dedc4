//! Tools that fit what they are connected to, or what is taken in between.

use super::{clean, finds};
use expect_test::expect;

/// A gauge and a port of different threads, joined in the way that is given.
fn joined(with: &str) -> String {
    format!(
        r#"item rail-port: port "rail port" {{ fits "M12 x 1.5" }}
item pump-port: port "pump port" {{ fits "M14x1.5" }}
tool rail-gauge: clip-on "rail gauge" {{ measures length 0 .. 1 m resolution 1 mm accuracy ± 1 mm  fits "M10x1" }}
tool adapter: hand-held "adapter" {{ fits "m10×1"  fits "M12x1.5" }}
item bush: removable "bush" {{ fits "M10x1"  fits "M14x1.5" }}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step look "Look" {{ {with} }}
    restore {{ disconnect rail-gauge }}
}}
"#
    )
}

#[test]
fn what_fits_both_goes_between() {
    clean(&joined("connect rail-gauge to rail-port with adapter"));
    clean(&joined("connect rail-gauge to pump-port with bush"));
    clean(&joined("connect rail-gauge to pump-port with adapter, bush"));
    clean(&joined("connect rail-gauge to post"));
}

#[test]
fn two_threads_do_not_meet() {
    finds(
        &joined("connect rail-gauge to pump-port with adapter"),
        expect![[r#"
            8 fitting-mismatch: the rail gauge does not fit the pump port
        "#]],
    );
    finds(
        &joined("connect rail-gauge to rail-port"),
        expect![[r#"
            8 fitting-mismatch: the rail gauge does not fit the rail port
        "#]],
    );
}
