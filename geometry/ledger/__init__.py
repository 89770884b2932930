"""Values that know where they come from: size, figure, finding."""
