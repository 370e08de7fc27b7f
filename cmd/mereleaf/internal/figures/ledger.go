package figures

// LedgerFile holds a second entry of every figure, as digests.
const LedgerFile = Folder + "/ledger.csv"
