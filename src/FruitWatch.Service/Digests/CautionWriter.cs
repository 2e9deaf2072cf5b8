using FruitWatch.Service.Text;

namespace FruitWatch.Service.Digests;

/// <summary>
/// The words that must stand beside every notice of pins and harvest. At length where a species is met first in a mail; from then on
/// in one sentence that still names the lookalikes, so that ten beds of one species remain readable.
/// </summary>
internal sealed class CautionWriter(Words words)
{
    private readonly HashSet<string> atLength = [];

    public LetterCaution? For(Told told)
    {
        if (!told.Draft.NeedsEatingCaution)
            return null;
        var species = told.Bed.Species;
        return new LetterCaution(
            words.BeforeEating, atLength.Add(species.Key) ? words.EatingCaution(species) : [words.EatingCautionInShort(species)]);
    }

    /// <summary>Notices of one line each: those that need the caution last and by species, with it once under each species.</summary>
    public IReadOnlyList<LetterLine> Lines(IEnumerable<Told> told, Func<Told, LetterLine> line)
    {
        var all = told.ToList();
        var lines = all.Where(t => !t.Draft.NeedsEatingCaution).Select(line).ToList();
        foreach (var species in all.Where(t => t.Draft.NeedsEatingCaution).GroupBy(t => t.Bed.Species.Key))
        {
            lines.AddRange(species.Select(line));
            var kind = species.First().Bed.Species;
            lines[^1] = lines[^1] with { Caution = $"{words.NameOf(kind)}: {words.EatingCautionInShort(kind)}" };
        }

        return lines;
    }
}
