using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Web;

/// <summary>
/// Fields of something that is made or changed, as they come from a program in JSON or from a person in a form. What may stand in them is
/// said once, for both; each tells what is wrong in its own way.
/// </summary>
internal interface IFields
{
    /// <summary>Nothing was wrong so far.</summary>
    bool Good { get; }

    string? Text(string name, int most, bool required = false);

    /// <summary>Text of one line.</summary>
    string? Line(string name, int most, bool required = false)
    {
        var text = Text(name, most, required);
        if (text is null || !text.Any(char.IsControl))
            return text;
        Refuse(name, words => words.FieldsOneLine);
        return null;
    }

    double? Number(string name, double low, double high, bool required = false);

    long? Id(string name, bool required = false);

    IReadOnlyList<long>? Ids(string name, int most);

    bool? YesNo(string name);

    LocalDate? Date(string name, bool required = false);

    LocalTime? Time(string name);

    T? Word<T>(string name)
        where T : struct, Enum;

    IReadOnlyList<T>? List<T>(string name, int most, Func<IFields, T> item, bool required = false);

    /// <summary>Notes that a field cannot be as it is.</summary>
    void Refuse(string name, Func<Words, string> error);
}
