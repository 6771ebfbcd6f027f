// Style sheets are bundled by name; they export nothing.
declare module "*.css";
