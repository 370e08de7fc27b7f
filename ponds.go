package mereleaf

import "embed"

// Ponds holds the ponds of this handbook, in the folder content/ponds.
//
//go:embed content/ponds/*.json
var Ponds embed.FS
