//! Adding, subtracting, multiplying and negating exact numbers; dividing is `checked_div`.

use std::ops::{Add, Mul, Neg, Sub};

use super::Exact;

macro_rules! operator {
    ($trait:ident, $method:ident) => {
        impl $trait for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                Exact($trait::$method(&self.0, &other.0))
            }
        }
        impl $trait for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                Exact($trait::$method(self.0, other.0))
            }
        }
        impl $trait<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                Exact($trait::$method(self.0, &other.0))
            }
        }
        impl $trait<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                Exact($trait::$method(&self.0, other.0))
            }
        }
    };
}

operator!(Add, add);
operator!(Sub, sub);
operator!(Mul, mul);

impl Neg for Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact(-self.0)
    }
}

impl Neg for &Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact(-&self.0)
    }
}

impl std::iter::Sum for Exact {
    fn sum<I: Iterator<Item = Exact>>(numbers: I) -> Exact {
        numbers.fold(Exact::zero(), |sum, number| sum + number)
    }
}
