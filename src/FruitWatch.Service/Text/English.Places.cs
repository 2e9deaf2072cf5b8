namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string BedEdit => "Change this bed";
}
