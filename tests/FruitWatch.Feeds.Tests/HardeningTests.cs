using System.Globalization;
using System.Text;
using CsCheck;
using NodaTime;

namespace FruitWatch.Feeds.Tests;

public sealed class HardeningTests
{
    public static TheoryData<string> Cultures => ["es-ES", "ar-SA", "tr-TR", "fa-IR"];

    [Theory]
    [MemberData(nameof(Cultures))]
    public void The_servers_language_changes_nothing(string culture)
    {
        var usual = CultureInfo.CurrentCulture;
        var expected = Read();
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo(culture);
        try
        {
            Assert.Equal(expected, Read());
        }
        finally
        {
            CultureInfo.CurrentCulture = usual;
        }

        static List<string> Read() =>
        [
            .. Samples.Of("normal").SelectMany(one => Samples.Read(one).Days.Select(Row)),
            .. Samples.Of("malformed").Select(one => Record.Exception(() => Samples.Read(one))?.Message ?? string.Join("|", Samples.Read(one).Notes.Select(note => note.Sentence + note.Place))),
        ];
    }

    [Fact]
    public void Any_bytes_are_read_or_refused_and_nothing_else()
    {
        var presets = FeedPresets.All;
        Gen.Select(Gen.Byte.Array[0, 300], Gen.Int[0, presets.Count - 1]).Sample((bytes, at) => Survives(presets[at], bytes));
    }

    [Fact]
    public void A_good_answer_with_bytes_changed_is_read_or_refused_and_nothing_else()
    {
        var samples = Samples.Of("normal").Select(one => (Samples.Preset(Samples.Text(one, "preset")), File.ReadAllBytes(Samples.PathOf(Samples.Text(one, "sample"))))).ToList();
        Gen.Select(Gen.Int[0, samples.Count - 1], Gen.Select(Gen.Int[0, 100_000], Gen.Byte).Array[1, 8]).Sample((at, changes) =>
        {
            var (preset, body) = samples[at];
            var changed = body.ToArray();
            foreach (var (where, what) in changes)
                changed[where % changed.Length] = what;
            return Survives(preset, changed);
        });
    }

    [Fact]
    public void Rain_is_neither_made_nor_lost_by_cutting_it_into_days()
    {
        var station = Mapping.Feeds.Station("UTC", json => json["series"]!["rain"]!["period"] = "PT37M");
        Gen.Double[0, 20].Array[1, 200].Sample(amounts =>
        {
            // Back to back, 37 minutes each, across days that the clocks make longer.
            var start = new LocalDateTime(2026, 10, 23, 5, 0);
            var rows = amounts.Select((mm, i) => string.Create(CultureInfo.InvariantCulture, $"{start.PlusMinutes(37 * i):uuuu-MM-dd HH:mm},10,{mm:R}"));
            var reading = Samples.Read(station, Mapping.Feeds.Rows([.. rows]), today: "2026-12-01");
            return Math.Abs(reading.Days.Sum(day => day.Rain?.Value ?? 0) - amounts.Sum()) < 1e-6;
        });
    }

    [Fact]
    public void The_users_page_says_rightly_which_refusals_stay()
    {
        var rows = Page().Split('\n').Where(line => line.StartsWith("| `", StringComparison.Ordinal) && (line.EndsWith("| yes |", StringComparison.Ordinal) || line.EndsWith("| no |", StringComparison.Ordinal))).ToList();
        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.Equal(FeedCodes.IsPermanent(row.Split('`')[1]), row.EndsWith("| yes |", StringComparison.Ordinal)));
    }

    [Fact]
    public void The_example_on_the_users_page_is_a_good_description()
    {
        var example = Page().Split("```json")[1].Split("```")[0];
        var body = Encoding.UTF8.GetBytes("Fecha;Temp;Lluvia 1h\n02/05/2026 03:00;10,5;1,25\n02/05/2026 04:00;11,5;0\n");
        Assert.Equal(1.25, Samples.Read(FeedDescription.Parse(example), body).Days.Single().Rain!.Value, 9);
    }

    [Fact]
    public void Every_code_and_preset_is_explained_to_the_user()
    {
        var page = Page();
        Assert.All(FeedCodes.All, code => Assert.Contains($"| `{code}` |", page, StringComparison.Ordinal));
        Assert.All(FeedPresets.All, preset => Assert.Contains($"| `{preset.Id}` |", page, StringComparison.Ordinal));
    }

    private static string Page() => File.ReadAllText(Path.Combine(Root(), "docs", "feeds.md")).ReplaceLineEndings("\n");

    private static string Root()
    {
        var here = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(here, "FruitWatch.sln")))
            here = Path.GetDirectoryName(here)!;
        return here;
    }

    private static bool Survives(FeedDescription description, byte[] body)
    {
        try
        {
            _ = Samples.Read(description, body, today: "2026-05-05").ToWeather();
            return true;
        }
        catch (FeedException refusal)
        {
            return FeedCodes.All.Contains(refusal.Code) && !refusal.Message.Any(char.IsControl);
        }
    }

    private static string Row(FeedDay day) => string.Create(CultureInfo.InvariantCulture, $"{day.Date:uuuu-MM-dd} {day.Member} {day.Tmax?.Value:R} {day.Tmin?.Value:R} {day.Rain?.Value:R}");
}
