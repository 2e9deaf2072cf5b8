using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using MimeKit;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>As much of the search of IMAP (RFC 9051 section 6.4.4) as is asked for here; what is not known is not found.</summary>
internal sealed class ImapSearch(byte[] message, IReadOnlySet<string> flags)
{
    private readonly HeaderList header = HeaderList.Load(new MemoryStream(message));

    public bool Finds(string criteria)
    {
        var words = new Queue<string>(Regex.Matches(criteria, "\"[^\"]*\"|[()]|[^\\s()]+").Select(word => word.Value));
        return All(words);
    }

    private bool All(Queue<string> words)
    {
        var all = true;
        while (words.Count > 0 && words.Peek() != ")")
            all &= One(words);
        return all;
    }

    private bool One(Queue<string> words)
    {
        switch (words.Dequeue().ToUpperInvariant())
        {
            case "(":
                var inner = All(words);
                words.Dequeue();
                return inner;
            case "OR":
                var (left, right) = (One(words), One(words));
                return left || right;
            case "NOT":
                return !One(words);
            case "DELETED":
                return flags.Contains("\\Deleted");
            case "UNDELETED":
                return !flags.Contains("\\Deleted");
            case "UNKEYWORD":
                return !flags.Contains(words.Dequeue());
            case "KEYWORD":
                return flags.Contains(words.Dequeue());
            case "SMALLER":
                return message.Length < int.Parse(words.Dequeue(), CultureInfo.InvariantCulture);
            case "TO":
                return Has("To", words.Dequeue());
            case "CC":
                return Has("Cc", words.Dequeue());
            case "HEADER":
                return Has(words.Dequeue(), words.Dequeue());
            case var unknown:
                throw new NotSupportedException(unknown);
        }
    }

    private bool Has(string field, string text) => header.Any(one =>
        one.Field.Equals(field.Trim('"'), StringComparison.OrdinalIgnoreCase)
        && Encoding.Latin1.GetString(one.RawValue).Contains(text.Trim('"'), StringComparison.OrdinalIgnoreCase));
}
