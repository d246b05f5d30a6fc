/** A file of styles that is imported with `type: "text"`. */
declare module "*.css" {
  const text: string;
  export default text;
}
