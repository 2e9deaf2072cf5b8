using FruitWatch.Model.Learning;
using FruitWatch.Service.Beds;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string LearnedTitle => "What the log taught";

    public override string LearnedSaid(LearnedBed learned) => learned.IsPrior
        ? "Nothing yet. Squeeze tests, looks at the mycelium, days of pins and looks that found none in the log show whether this bed dries and grows faster or slower than usual."
        : $"From {Seen(learned.From)}: against the usual bed this one dries {Range(learned.Evaporation)} and grows {Range(learned.Growth)}. The ranges hold for 9 of 10 such beds.";

    public override string LearnedDisagrees =>
        "The log does not fit any bed that the model allows. Check the bed's depth, shade and cover, and the last entries.";

    private string Range(LearnedMultiplier of) => $"about {Number(of.P50, 1)} times as fast ({Number(of.P5, 1)} to {Number(of.P95, 1)})";

    private string Seen(LearnedFrom from)
    {
        string[] seen =
        [
            .. Counted(from.SqueezeTests, "squeeze test", "squeeze tests"),
            .. Counted(from.Moistures, "measured moisture", "measured moistures"),
            .. Counted(from.MyceliumLooks, "look at the mycelium", "looks at the mycelium"),
            .. Counted(from.PinsDates, "day of pins", "days of pins"),
            .. Counted(from.LooksWithoutPins, "look that found none", "looks that found none"),
        ];
        return seen.Length == 1 ? seen[0] : $"{string.Join(", ", seen[..^1])} and {seen[^1]}";

        string[] Counted(int count, string one, string many) => count == 0 ? [] : [$"{Number(count)} {(count == 1 ? one : many)}"];
    }
}
