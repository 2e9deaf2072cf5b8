using System.Globalization;
using System.Text.RegularExpressions;
using FruitWatch.Service.Text;
using Microsoft.Extensions.Primitives;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Web;

/// <summary>How a number is given in a form, where that is another unit than the one it is kept in.</summary>
/// <param name="Parts">So many of the form's unit make one of the kept one.</param>
/// <param name="Unit">What the form's unit is called.</param>
internal sealed record FormUnit(double Parts, string Unit);

/// <summary>
/// Fields of a form: text by field, with what is wrong with it. Numbers are read alike in every language: one decimal mark, comma or
/// point, and no mark of thousands, so that 1.5 is never taken for 15.
/// </summary>
/// <param name="words">For what is wrong.</param>
/// <param name="values">What stands in the fields.</param>
/// <param name="units">Units by the last part of a field's name; the names of others end with their unit.</param>
internal sealed partial class FormFields(
    Words words, IReadOnlyDictionary<string, StringValues> values, IReadOnlyDictionary<string, FormUnit>? units = null) : IFields
{
    private readonly List<(string Field, string Error)> errors = [];

    /// <summary>What is wrong, in the order of the fields; an empty name is the form as a whole.</summary>
    public IReadOnlyList<(string Field, string Error)> Errors => errors;

    public bool Good => errors.Count == 0;

    /// <summary>Begins the names of elements, where two forms of a page have fields of the same name.</summary>
    public string IdPrefix { get; set; } = "";

    /// <summary>A form as it was sent.</summary>
    public static FormFields Of(IFormCollection sent, Words words, IReadOnlyDictionary<string, FormUnit>? units = null) =>
        new(words, sent.ToDictionary(field => field.Key, field => field.Value), units);

    /// <summary>Name of an element that stands for a field, for links and labels.</summary>
    public static string IdOf(string name) => name.Replace('[', '-').Replace("].", "-", StringComparison.Ordinal);

    /// <summary>What stands in a field.</summary>
    public string this[string name] => values.TryGetValue(name, out var value) ? value.ToString().Trim() : "";

    public bool Holds(string name, string value) => values.TryGetValue(name, out var given) && given.Contains(value);

    public string? ErrorOf(string name) => errors.FirstOrDefault(error => error.Field == name).Error;

    /// <summary>A number as it stands in a field.</summary>
    public string Shown(string name, double value) => Shown(value * (UnitOf(name)?.Parts ?? 1));

    public static string Shown(double value) => Math.Round(value, 6).ToString(CultureInfo.InvariantCulture);

    public FormUnit? UnitOf(string name) => units?.GetValueOrDefault(name[(name.LastIndexOf('.') + 1)..]);

    public void Refuse(string name, string error)
    {
        // One thing at a time: what follows from an empty field need not be said.
        if (ErrorOf(name) is null)
            errors.Add((name, error));
    }

    public void Refuse(string name, Func<Words, string> error) => Refuse(name, error(words));

    public string? Text(string name, int most, bool required = false)
    {
        var text = Given(name, required);
        if (text?.Length > most)
            Refuse(name, words.TooLong(most));
        else if (text?.Any(c => char.IsControl(c) && c is not ('\n' or '\r' or '\t')) == true)
            Refuse(name, words.FieldsOneLine);
        return text;
    }

    public double? Number(string name, double low, double high, bool required = false)
    {
        if (Given(name, required) is not { } text)
            return null;
        var unit = UnitOf(name);
        var parts = unit?.Parts ?? 1;
        if (OneMark().IsMatch(text)
            && double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && number >= Math.Round(low * parts, 9) && number <= Math.Round(high * parts, 9))
            return Math.Clamp(number / parts, low, high) + 0.0; // adding zero turns −0 into 0
        Refuse(name, words.NumberBetween(Math.Round(low * parts, 9), Math.Round(high * parts, 9), unit?.Unit ?? ""));
        return null;
    }

    public long? Id(string name, bool required = false)
    {
        if (Given(name, required) is not { } text)
            return null;
        if (long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var id))
            return id;
        Refuse(name, words.ChooseOne);
        return null;
    }

    public IReadOnlyList<long>? Ids(string name, int most)
    {
        if (!values.TryGetValue(name, out var given))
            return null;
        var ids = new HashSet<long>();
        foreach (var one in given)
        {
            if (ids.Count < most && long.TryParse(one, NumberStyles.None, CultureInfo.InvariantCulture, out var id))
                ids.Add(id);
            else
                Refuse(name, words.ChooseOne);
        }

        return [.. ids];
    }

    /// <summary>A box that is not ticked is not sent.</summary>
    public bool? YesNo(string name) => values.ContainsKey(name);

    public LocalDate? Date(string name, bool required = false)
    {
        if (Given(name, required) is not { } text)
            return null;
        if (LocalDatePattern.Iso.Parse(text).TryGetValue(default, out var day))
            return day;
        Refuse(name, words.FieldsDay);
        return null;
    }

    public LocalTime? Time(string name)
    {
        if (Given(name, required: false) is not { } text)
            return null;
        if (s_hourAndMinute.Parse(text).TryGetValue(default, out var time))
            return time;
        Refuse(name, words.FieldsTime);
        return null;
    }

    public T? Word<T>(string name)
        where T : struct, Enum
    {
        if (Given(name, required: false) is not { } text)
            return null;
        foreach (var word in Enum.GetValues<T>())
        {
            if (ApiJson.WordOf(word) == text)
                return word;
        }

        Refuse(name, words.ChooseOne);
        return null;
    }

    /// <summary>Rows of a form are numbered; those that nothing was filled into are no entries.</summary>
    public IReadOnlyList<T>? List<T>(string name, int most, Func<IFields, T> item, bool required = false)
    {
        var items = new List<T>();
        for (var i = 0; i < most; i++)
        {
            var row = string.Create(CultureInfo.InvariantCulture, $"{name}[{i}].");
            if (values.Any(field => field.Key.StartsWith(row, StringComparison.Ordinal) && !string.IsNullOrWhiteSpace(field.Value)))
                items.Add(item(new Row(this, row)));
        }

        if (items.Count > 0)
            return items;
        if (required)
            Refuse(name, words.FieldsFillIn);
        return null;
    }

    private string? Given(string name, bool required)
    {
        var text = this[name];
        if (text.Length == 0 && required)
            Refuse(name, words.FieldsFillIn);
        return text.Length == 0 ? null : text;
    }

    private static readonly LocalTimePattern s_hourAndMinute = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    [GeneratedRegex(@"^-?[0-9]{1,9}([.,][0-9]{1,6})?\z")]
    private static partial Regex OneMark();

    /// <summary>A row of a list: the same form, with longer names.</summary>
    private sealed class Row(FormFields form, string row) : IFields
    {
        public bool Good => form.Good;

        public string? Text(string name, int most, bool required = false) => form.Text(row + name, most, required);

        public double? Number(string name, double low, double high, bool required = false) => form.Number(row + name, low, high, required);

        public long? Id(string name, bool required = false) => form.Id(row + name, required);

        public IReadOnlyList<long>? Ids(string name, int most) => form.Ids(row + name, most);

        public bool? YesNo(string name) => form.YesNo(row + name);

        public LocalDate? Date(string name, bool required = false) => form.Date(row + name, required);

        public LocalTime? Time(string name) => form.Time(row + name);

        public T? Word<T>(string name)
            where T : struct, Enum => form.Word<T>(row + name);

        public IReadOnlyList<T>? List<T>(string name, int most, Func<IFields, T> item, bool required = false) => form.List(row + name, most, item, required);

        public void Refuse(string name, Func<Words, string> error) => form.Refuse(row + name, error);
    }
}
