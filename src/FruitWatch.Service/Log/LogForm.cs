using System.Globalization;
using System.Text.RegularExpressions;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Log;

/// <summary>
/// A log entry as it stands in a form: text by field, with what is wrong with it. Numbers are read alike in every language: one
/// decimal mark, comma or point, and no mark of thousands, so that 1.5 is never taken for 15.
/// </summary>
internal sealed partial class LogForm
{
    private readonly Dictionary<string, string> errors = [];

    private LogForm(string kind, Units units) => (Kind, Asked) = (kind, LogQuestions.Of(kind, units));

    public string Kind { get; }

    public string On { get; private set; } = "";

    public string Amount { get; private set; } = "";

    public string Choice { get; private set; } = "";

    public string Depth { get; private set; } = "";

    public string Note { get; private set; } = "";

    public LogQuestions Asked { get; }

    /// <summary>What is wrong, by field.</summary>
    public IReadOnlyDictionary<string, string> Errors => errors;

    /// <summary>A form to be filled in.</summary>
    public static LogForm Empty(string kind, LocalDate today, Units units) => new(kind, units) { On = LocalDatePattern.Iso.Format(today) };

    /// <summary>A form as it was sent.</summary>
    public static LogForm Of(IFormCollection sent, LocalDate today, Units units) => new(sent["kind"].ToString(), units)
    {
        On = sent.ContainsKey("on") ? sent["on"].ToString().Trim() : LocalDatePattern.Iso.Format(today),
        Amount = sent["amount"].ToString().Trim(),
        Choice = sent["text"].ToString().Trim(),
        Depth = sent["depth"].ToString().Trim(),
        Note = sent["note"].ToString().Trim(),
    };

    /// <summary>Notes that a field cannot be as it is.</summary>
    public void Refuse(string field, string error) => errors.TryAdd(field, error);

    /// <summary>The entry; null where a field is wrong, which is then noted.</summary>
    public LogEntry? Read(long bedId, LocalDate first, LocalDate last, BedCatalogue catalogue, Words words)
    {
        if (!LogKinds.All.Contains(Kind))
            Refuse("kind", words.ChooseOne);
        LocalDate on = default;
        if (!LocalDatePattern.Iso.Parse(On).TryGetValue(default, out on) || on < first || on > last)
            Refuse("on", words.DayBetween(first, last));
        var amount = Number("amount", Amount, Asked.Amount, words);
        var depth = Number("depth", Depth, Asked.Depth, words);
        if (Asked.Choice is { } choice && !LogQuestions.Choices(choice, catalogue).Contains(Choice))
            Refuse("text", words.ChooseOne);
        if (Note.Length > LogBook.LongestNote)
            Refuse("note", words.TooLong(LogBook.LongestNote));
        return errors.Count > 0
            ? null
            : new LogEntry
            {
                BedId = bedId,
                Kind = Kind,
                On = on,
                Amount = amount,
                Text = Asked.Choice is null ? null : Choice,
                Depth = depth,
                Note = Note.Length == 0 ? null : Note,
            };
    }

    private double? Number(string field, string text, AmountAsked? asked, Words words)
    {
        if (asked is null)
            return null;
        if (OneMark().IsMatch(text)
            && double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && number >= asked.Low && number <= asked.High)
            return number * asked.Kept;
        Refuse(field, words.NumberBetween(asked.Low, asked.High, words.NameOf(asked.Unit)));
        return null;
    }

    [GeneratedRegex(@"^-?[0-9]{1,9}([.,][0-9]{1,6})?\z")]
    private static partial Regex OneMark();
}
