/** Kinds with parts, references, lists and designations, to put things together of; they mean nothing. */
export const kinds = `designation pipe_size "Pipe" {
  across: length
  grade: text
  form "{across mm}[ {grade text}]"
}
kind pin "Pin" { long: length  wide: length  pipe: pipe_size  sizes: list of length }
kind long_pin is pin "Long pin" {}
kind plate "Plate" { thick: length  pin: part pin  second: part pin }
kind frame "Frame" {
  plate: part plate
  pin: pin
  spare: pin optional
  pins: list of pin
  form: one_of(round, square)
  weight: mass
}
`;
