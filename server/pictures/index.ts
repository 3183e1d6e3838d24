/**
 * The pictures of a build: which there are, and each as a drawing.
 *
 *     picturesOf(analysis)               →   [{ id: "rear/behind", path: "rear", title: … }, …]
 *     drawPicture(analysis, "rear")      →   a drawing: shapes, scale, figures, what is missing
 *
 * Pictures belong to things (a few to figures) and are called by their path; a thing with several
 * has its first by its path alone. Must not know: editors, terminals, pages.
 */
export {
  draftPicture,
  drawPicture,
  type PictureOffer,
  type PictureOptions,
  pictureCalled,
  picturesOf,
} from "./pictures";
