using System.Globalization;
using System.Text;
using System.Text.Json;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>Reads members of a JSON object strictly; a mistake is reported with its line, column and pointer.</summary>
internal sealed class CaseReader
{
    private readonly JsonElement element;
    private readonly string pointer;
    private readonly JsonSource source;

    private CaseReader(JsonElement element, string pointer, JsonSource source)
    {
        this.element = element;
        this.pointer = pointer;
        this.source = source;
    }

    public static CaseReader Open(string name, string text)
    {
        if (string.IsNullOrWhiteSpace(text))
            throw new VerbException($"{name}: the file is empty; expected a JSON object.");

        var source = new JsonSource(name, Encoding.UTF8.GetBytes(text.TrimStart('\uFEFF')));
        using var document = source.Parse();
        return new CaseReader(document.RootElement.Clone(), "", source).Object();
    }

    public CaseReader Only(params string[] members)
    {
        foreach (var member in element.EnumerateObject())
        {
            if (!members.Contains(member.Name))
                throw At(member.Name).Error($"'{member.Name}' is not known here; expected {string.Join(", ", members)}");
        }

        return this;
    }

    public bool Has(string member) => element.TryGetProperty(member, out var value) && value.ValueKind != JsonValueKind.Null;

    public CaseReader Member(string member) =>
        Has(member) ? At(member) : throw Error($"'{member}' is missing");

    public CaseReader Object() => element.ValueKind == JsonValueKind.Object ? this : throw Error("expected an object");

    public IEnumerable<CaseReader> Items(string member)
    {
        if (!Has(member))
            return [];
        var list = At(member);
        return list.element.ValueKind == JsonValueKind.Array
            ? list.element.EnumerateArray().Select((item, i) => new CaseReader(item, $"{list.pointer}/{i}", source).Object())
            : throw list.Error("expected a list");
    }

    public string Text() => element.ValueKind == JsonValueKind.String ? element.GetString()! : throw Error("expected text");

    public bool IsNumber => element.ValueKind == JsonValueKind.Number;

    public bool Flag() => element.ValueKind is JsonValueKind.True or JsonValueKind.False ? element.GetBoolean() : throw Error("expected true or false");

    public double Number(double low, double high)
    {
        if (!IsNumber || !element.TryGetDouble(out var value) || !double.IsFinite(value))
            throw Error("expected a number");
        return value >= low && value <= high
            ? value
            : throw Error(string.Create(CultureInfo.InvariantCulture, $"{value} is out of range; expected {low} to {high}"));
    }

    public double NumberOr(string member, double low, double high, double otherwise) =>
        Has(member) ? At(member).Number(low, high) : otherwise;

    public LocalDate Date() => LocalDatePattern.Iso.Parse(Text()) is { Success: true } parsed
        ? parsed.Value
        : throw Error($"'{Text()}' is not a date; expected year-month-day, such as 2026-05-31");

    public LocalTime Time() => LocalTimePattern.CreateWithInvariantCulture("HH':'mm").Parse(Text()) is { Success: true } parsed
        ? parsed.Value
        : throw Error($"'{Text()}' is not a time of day; expected hours:minutes, such as 07:30");

    public T OneOf<T>(IReadOnlyDictionary<string, T> choices) => choices.TryGetValue(Text(), out var choice)
        ? choice
        : throw Error($"'{Text()}' is not known; expected {string.Join(", ", choices.Keys)}");

    public VerbException Error(string message) => source.Error(pointer, message);

    private CaseReader At(string member) => new(element.GetProperty(member), JsonSource.Step(pointer, member), source);
}
