namespace FruitWatch.Model.Catalogue;

/// <summary>Something wrong in a catalogue file.</summary>
/// <param name="Path">Where: a JSON pointer (RFC 6901), empty for the whole file.</param>
/// <param name="Read">What was read there.</param>
/// <param name="Expected">What should be there, with its range.</param>
public sealed record CatalogueProblem(string Path, string Read, string Expected)
{
    /// <summary>The problem as a line for people.</summary>
    public override string ToString() => $"{(Path.Length == 0 ? "the file" : Path)}: read {Read}, expected {Expected}";
}

/// <summary>A catalogue file was refused whole. Lists all that is wrong in it, so that it can be mended in one go.</summary>
public sealed class CatalogueException : Exception
{
    /// <summary>Refuses a file for its problems.</summary>
    public CatalogueException(IReadOnlyList<CatalogueProblem> problems)
        : base($"The catalogue file has {problems.Count} problem(s):\n" + string.Join('\n', problems)) => Problems = problems;

    /// <summary>All that is wrong, in the order of the file; at least one.</summary>
    public IReadOnlyList<CatalogueProblem> Problems { get; }
}
