// board: – → how far a view may lay the map beside the picture.

/** How far a view may lay the map beside the picture, px: fiducials are picked to a fraction of a pixel. */
export const VIEW_SIGMA_PX = 0.4;
