//! Shows the problems of an order file.
fn main() {
    let name = std::env::args().nth(1).unwrap();
    let bytes = std::fs::read(&name).unwrap();
    let read = files::read_order(&bytes);
    print!("{}", files::render(&files::Source::new(&name, &bytes), &read.problems));
}
